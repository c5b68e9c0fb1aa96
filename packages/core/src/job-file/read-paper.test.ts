import fc from 'fast-check';
import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { JOB_KEYS, type JobKeyName } from './keys.js';
import { type JobOverride, readJob } from './read.js';
import { newJobText } from './write.js';

const file = 'bench.okuri.json';
const job = (more: object = {}) => ({ okuri: 1, motif: 'leaves.svg', ...more });
const read = (data: unknown, overrides: readonly JobOverride[] = []) =>
  readJob(typeof data === 'string' ? data : JSON.stringify(data), { file, overrides }).job;

function refusal(data: unknown, overrides: readonly JobOverride[] = []): string {
  try {
    read(data, overrides);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    const { message } = error as Error;
    expect(message).not.toContain('\n');
    expect(message.startsWith(`${file}: `)).toBe(true);
    expect(message).toMatch(/[^.?][.?]$/);
    return message;
  }
  throw new Error('The job was taken.');
}

// Common practice, no published source.
it.each([
  [{}, { neckMm: 1, slitMm: 0.8, spanMm: 120, tongueRatio: 6 }, 2],
  [{ gauze: false }, { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3 }, 2],
  [{ paper: { kind: 'card' } }, { neckMm: 3, slitMm: 0.8, spanMm: 120, tongueRatio: 6 }, 3],
  [
    { paper: { kind: 'card' }, gauze: false, method: 'direct' },
    { neckMm: 3, slitMm: 0.5, spanMm: 50, tongueRatio: 3 },
    3,
  ],
  [{ paper: { neck: '2.5mm' } }, { neckMm: 2.5 }, 2.5],
  [{ paper: { kind: 'card', neck: '1mm', tongue: 4 } }, { neckMm: 1, tongueRatio: 4 }, 3],
])('asks of the paper of %j what suits it', (more, rules, tieWidthMm) => {
  const { paper } = read(job(more));
  expect(paper.rules).toMatchObject(rules);
  expect(paper.tie.widthMm).toBe(tieWidthMm);
});

it('takes what the job says of paper, ties and pace', () => {
  const own = read(
    job({
      paper: {
        kind: 'card',
        neck: '2mm',
        slit: '1mm',
        span: '8cm',
        tongue: 2.5,
        stroke: 'left',
        turn: '2mm',
        tieWidth: '1/8in',
        tieFlare: '0mm',
        largeIsland: 300,
        hideTies: false,
      },
      double: { on: true, overlap: '1mm' },
      pace: { mmPerMinute: 90, secondsPerCorner: 5, blade: '2m' },
    }),
  );
  expect(own.paper).toEqual({
    kind: 'card',
    rules: { neckMm: 2, slitMm: 1, spanMm: 80, tongueRatio: 2.5, stroke: 'left', turnMm: 2 },
    tie: { widthMm: 3.175, flareMm: 0, largeMm2: 300, hide: false },
  });
  expect(own.double).toEqual({ on: true, overlapMm: 1 });
  expect(own.pace).toEqual({ mmPerMinute: 90, secondsPerCorner: 5, bladeMm: 2000 });
});

const tie = (more: object = {}) => ({ id: 'T1', kind: 'printed', from: [10, 10], to: [13, 10], ...more });
const ties = (...list: object[]) => ({ ties: { '#000': list } });

it('reads ties by ink and writes them again', () => {
  const own = read(job(ties(tie(), tie({ id: 'T12', kind: 'release', from: [-2, 0.00001], to: [1, -0.00001] }))));
  expect(own.ties).toEqual({
    '#000000': [
      { id: 'T1', kind: 'printed', from: { x: 10, y: 10 }, to: { x: 13, y: 10 } },
      { id: 'R12', kind: 'release', from: { x: -2, y: 0.00001 }, to: { x: 1, y: -0.00001 } },
    ],
  });
  const written = newJobText(own);
  expect(JSON.parse(written).ties['#000000'][1]).toEqual({ id: 'R12', kind: 'release', from: [-2, 0], to: [1, 0] });
  expect(written).not.toContain('-0,');
  expect(newJobText(read(written))).toBe(written);
});

it.each([
  [{ paper: 'A4' }, /"paper" must be a group of keys/],
  [{ paper: { kind: 'plastic' } }, /"paper\.kind" must be one of treated, card, not "plastic"/],
  [{ paper: { nek: '1mm' } }, /"paper\.nek" is not a key of a job: did you mean "neck"\?/],
  [{ paper: { neck: '0mm' } }, /"paper\.neck" is 0 mm: it must be from 0\.2 mm/],
  [{ paper: { neck: '-1mm' } }, /"paper\.neck"/],
  [{ paper: { neck: 2 } }, /"paper\.neck" must be text in quotes/],
  [{ paper: { slit: '0mm' } }, /"paper\.slit" is 0 mm/],
  [{ paper: { span: '0mm' } }, /"paper\.span" is 0 mm/],
  [{ paper: { tongue: 0 } }, /"paper\.tongue" is 0/],
  [{ paper: { tongue: 'six' } }, /"paper\.tongue" must be "auto" or a number of roots, not "six"/],
  [{ paper: { stroke: 'sideways' } }, /"paper\.stroke" must be one of down, up, left, right/],
  [{ paper: { turn: '0mm' } }, /"paper\.turn" is 0 mm/],
  [{ paper: { tieWidth: '0mm' } }, /"paper\.tieWidth" is 0 mm/],
  [{ paper: { tieWidth: '-2mm' } }, /"paper\.tieWidth"/],
  [{ paper: { tieWidth: '20cm' } }, /"paper\.tieWidth" is 200 mm/],
  [{ paper: { tieWidth: '0.9mm' } }, /"paper\.tieWidth" is 0\.9 mm, narrower than the 1 mm .*"paper\.neck"/],
  [{ paper: { kind: 'card', tieWidth: '2mm' } }, /"paper\.tieWidth" is 2 mm, narrower than the 3 mm/],
  [{ paper: { tieFlare: '3mm' } }, /"paper\.tieFlare" is 3 mm: it must be from 0 mm to 2 mm/],
  [{ paper: { largeIsland: 0 } }, /"paper\.largeIsland" is 0 mm²/],
  [{ paper: { largeIsland: '150' } }, /"paper\.largeIsland" must be a number, not "150"/],
  [{ paper: { hideTies: 'yes' } }, /"paper\.hideTies" must be true or false/],
  [{ double: true }, /"double" must be a group of keys in braces, not true/],
  [{ double: { overlap: '-1mm' } }, /"double\.overlap"/],
  [{ double: { on: true, overlap: '2.5mm' } }, /"double\.overlap" is 2\.5 mm, more than the width of a tie, 2 mm/],
  [{ double: { on: true }, ...ties(tie({ kind: 'release' })) }, /"double\.on" is true, but R1 .* release tie/],
  [{ pace: { mmPerMinute: 0 } }, /"pace\.mmPerMinute" is 0 mm/],
  [{ pace: { secondsPerCorner: -1 } }, /"pace\.secondsPerCorner" is -1 s/],
  [{ pace: { blade: '0mm' } }, /"pace\.blade" is 0 mm/],
  [{ pace: { blade: 1500 } }, /"pace\.blade" must be text in quotes/],
  [{ sheet: { border: '0mm' } }, /"sheet\.border" is 0 mm: it must be from 3 mm/],
  [{ sheet: { trailing: '0in' } }, /"sheet\.trailing" is 0 mm: it must be from 3 mm/],
  [{ ties: [tie()] }, /"ties" must be a group with a key for each ink, not a list/],
  [{ ties: { black: [tie()] } }, /"ties\.black" is "black": write a colour/],
  [{ ties: { '#000': [tie()], '#000000': [tie()] } }, /"ties\.#000000" is an ink that stands here already/],
  [ties(tie(), tie({ id: 'R1', kind: 'release', to: [20, 20] })), /"ties\.#000" has the tie R1 twice/],
  [ties(tie(), tie({ to: [20, 20] })), /"ties\.#000" has the tie T1 twice/],
  [ties(tie({ id: '1' })), /"ties\.#000\[0\]\.id" is "1": write T and a number/],
  [ties(tie({ id: 'T0' })), /"ties\.#000\[0\]\.id" is "T0"/],
  [ties(tie(), tie({ id: 'T2', kind: 'glued' })), /"ties\.#000\[1\]\.kind" must be one of printed, release/],
  [ties(tie({ knd: 'printed' })), /"ties\.#000\[0\]\.knd" is not a key of a job: did you mean "kind"\?/],
  [ties(tie({ from: 10 })), /"ties\.#000\[0\]\.from" must be a list of x and y, in mm on the unit, not 10/],
  [ties(tie({ from: [10] })), /"ties\.#000\[0\]\.from"/],
  [ties(tie({ to: ['1mm', 3] })), /"ties\.#000\[0\]\.to\[0\]" must be a number, not "1mm"/],
  [ties(tie({ to: [10, 10] })), /"ties\.#000\[0\]" is the tie T1 that begins and ends in one place/],
  [ties(tie({ to: [900, 10] })), /"ties\.#000\[0\]" is the tie T1, 890 mm long/],
  [ties(tie({ from: [1e6, 10] })), /"ties\.#000\[0\]\.from" is 1000000 mm/],
  [
    { gauze: false, ...ties(tie({ kind: 'release' })) },
    /"ties\.#000" has the release tie R1, but the job has no gauze: release ties need gauze/,
  ],
])('refuses %j in one sentence with the path', (more, sentence) => {
  expect(refusal(job(more))).toMatch(sentence);
});

it('refuses numbers that are none or without end', () => {
  expect(refusal('{"okuri": 1, "motif": "a.svg", "paper": {"largeIsland": 1e999}}')).toMatch(
    /"paper\.largeIsland" must be a number, not Infinity/,
  );
  expect(refusal('{"okuri": 1, "motif": "a.svg", "paper": {"tongue": -1e999}}')).toMatch(/not -Infinity/);
  expect(refusal('{"okuri": 1, "motif": "a.svg", "pace": {"mmPerMinute": NaN}}')).toMatch(/not JSON/);
  const nan: JobOverride = { path: ['pace', 'mmPerMinute'], value: Number.NaN, name: '--pace' };
  expect(refusal(job(), [nan])).toMatch(/--pace must be a number, not NaN/);
});

it('says why ties of the job do not go with an option', () => {
  const gauzeless: JobOverride = { path: ['gauze'], value: false, name: '--no-gauze' };
  expect(refusal(job(ties(tie({ kind: 'release' }))), [gauzeless])).toMatch(/release ties need gauze/);
  expect(read(job(ties(tie())), [gauzeless]).ties['#000000']).toHaveLength(1);
});

it('writes what it reads of paper, double sheets, pace and ties', () => {
  const mm = ({ min, max }: { min: number; max: number }) =>
    fc.integer({ min: Math.ceil(min * 100), max: Math.floor(max * 100) }).map((n) => `${n / 100}mm`);
  const auto = (own: { min: number; max: number }) => fc.oneof(mm(own), fc.constant('auto'));
  const bounds = (name: JobKeyName) => JOB_KEYS[name].facts.bounds ?? { min: 0, max: 1 };
  const at = fc.tuple(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: -5000, max: 5000 }));
  const jobs = fc.record(
    {
      okuri: fc.constant(1),
      motif: fc.constant('leaves.svg'),
      gauze: fc.boolean(),
      method: fc.constantFrom('resist', 'direct'),
      paper: fc.record(
        {
          kind: fc.constantFrom('treated', 'card'),
          neck: auto({ min: 0.2, max: 4 }),
          slit: auto(bounds('paper.slit')),
          span: auto(bounds('paper.span')),
          tongue: fc.oneof(fc.constant('auto'), fc.integer({ min: 1, max: 100 })),
          stroke: fc.constantFrom('down', 'up', 'left', 'right'),
          turn: mm(bounds('paper.turn')),
          tieWidth: auto({ min: 4, max: 30 }),
          tieFlare: mm(bounds('paper.tieFlare')),
          largeIsland: fc.integer({ min: 1, max: 1000 }),
          hideTies: fc.boolean(),
        },
        { requiredKeys: [] },
      ),
      double: fc.record({ on: fc.boolean(), overlap: mm({ min: 0, max: 2 }) }, { requiredKeys: [] }),
      pace: fc.record({ mmPerMinute: fc.integer({ min: 1, max: 1000 }), blade: mm(bounds('pace.blade')) }),
      ties: fc.array(at, { maxLength: 5 }).map((list) => ({
        '#0072b2': list.map(([x, y], k) => ({
          id: `T${k + 1}`,
          kind: 'printed',
          from: [x / 10, y / 10],
          to: [x / 10 + 2.5, y / 10],
        })),
      })),
    },
    { requiredKeys: ['okuri', 'motif'] },
  );
  fc.assert(
    fc.property(jobs, (data) => {
      const first = read(data);
      const text = newJobText(first);
      const second = read(text);
      expect(second).toEqual({ ...first, title: second.title });
      expect(newJobText(second)).toBe(text);
    }),
  );
});
