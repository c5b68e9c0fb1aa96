import fc from 'fast-check';
import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { type JobOverride, jobForMotif, readJob } from './read.js';
import { newJobText } from './write.js';

const file = 'bench.okuri.json';
const read = (data: unknown, overrides: readonly JobOverride[] = []) =>
  readJob(typeof data === 'string' ? data : JSON.stringify(data), { file, overrides });
const job = (more: object = {}) => ({ okuri: 1, motif: 'art/leaves.svg', ...more });

function refusal(data: unknown, overrides: readonly JobOverride[] = []): string {
  try {
    read(data, overrides);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    const { message } = error as Error;
    expect(message).not.toContain('\n');
    expect(message.startsWith(`${file}: `)).toBe(true);
    expect(message).toMatch(/[.?]$/);
    return message;
  }
  throw new Error('The job was taken.');
}

it('fills every default', () => {
  expect(read(job()).job).toEqual({
    title: 'leaves',
    motif: 'art/leaves.svg',
    fonts: [],
    date: '1970-01-01',
    revision: '1',
    size: { widthMm: null, heightMm: null },
    repeat: { kind: 'straight', step: { p: 0, q: 1 } },
    across: 1,
    down: 1,
    spill: 'auto',
    drawn: 'cut',
    method: 'resist',
    hairlines: 'area',
    paperColour: '#ffffff',
    cut: null,
    joins: { reachMm: 3, gapShare: 0.2, gapMinMm: 0.2, gapMaxMm: 0.8, kinkFineDeg: 6, kinkBroadDeg: 12, broadMm: 4 },
    practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze: true, soak: true },
    punchesMm: [1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5],
    punch: 'dry',
    movement: null,
    paper: {
      kind: 'treated',
      rules: { neckMm: 1, slitMm: 0.8, spanMm: 120, tongueRatio: 6, stroke: 'down', turnMm: 1.5 },
      tie: { widthMm: 2, flareMm: 0.4, largeMm2: 150, hide: true },
    },
    double: { on: false, overlapMm: 0.6 },
    pace: { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 },
    ties: {},
    numbers: {},
    takenAt: { ties: null, numbers: null, done: null, proof: null },
    done: {},
    proof: {},
    hold: { mode: 'band', widthMm: null },
    lapMm: 0.4,
    sheet: { borderMm: 40, trailingMm: 25, dotMm: 1, sightDotMm: 1.5, seat: false },
    pages: {
      paper: 'A4',
      orientation: 'auto',
      marginMm: 6.35,
      overlapMm: 10,
      mirror: false,
      skipBlank: false,
      scaleAcross: 1,
      scaleAlong: 1,
    },
    cloth: {
      widthMm: 2000,
      lengthMm: 2000,
      colour: '#f4efe3',
      dye: '#1f3a5f',
      seams: false,
      dots: false,
      findings: false,
      sizes: 'table',
      shrinkAlongPercent: null,
      shrinkAcrossPercent: null,
      direction: 'along',
      selvedgeLeftMm: 0,
      selvedgeRightMm: 0,
      startMm: 0,
      endMm: 0,
    },
    plan: {
      start: 'above',
      fill: 'cover',
      align: 'left',
      stepping: 'every-other',
      wipeEvery: 4,
      checkEvery: 5,
      faces: 'one',
      time: { secondsAPlacement: 90, dryingMinutes: 120, hoursADay: 8 },
      paste: { filmMm: 0.7, extraPercent: 40, densityGPerMl: 1.1 },
      wear: { placementsASheet: null, daysASheet: null },
      order: null,
      panels: null,
    },
  });
});

it('reads lengths in any unit', () => {
  const { size, cloth } = read(job({ width: '9 7/8in', height: '36cm', cloth: { width: '1.5m' } })).job;
  expect(size.widthMm).toBeCloseTo(250.825, 9);
  expect(size.heightMm).toBeCloseTo(360, 9);
  expect(cloth.widthMm).toBeCloseTo(1500, 9);
});

it('reads how the sheet is worked, and mirrors by the transfer unless told', () => {
  const own = read(job({ hand: 'left', transfer: 'carbon', grain: 'level', gauze: false, soak: false })).job;
  expect(own.practice).toEqual({ hand: 'left', transfer: 'carbon', grain: 'level', gauze: false, soak: false });
  for (const transfer of ['cut-through', 'carbon', 'lightbox']) {
    const mirror = (pages: object) => read(job({ transfer, pages })).job.pages.mirror;
    expect([mirror({}), mirror({ mirror: 'auto' }), mirror({ mirror: true }), mirror({ mirror: false })]).toEqual([
      false,
      false,
      true,
      false,
    ]);
  }
});

it('reads kept numbers and what is done, and writes them again', () => {
  const numbers = {
    '#000': [
      [1, 10, 20.5, 100],
      [3, 0, 0, 0],
    ],
  };
  const own = read(job({ numbers, done: '1-3 7; 12 – 14' })).job;
  expect(own.numbers).toEqual({
    '#000000': [
      { number: 1, x: 10, y: 20.5, areaMm2: 100 },
      { number: 3, x: 0, y: 0, areaMm2: 0 },
    ],
  });
  expect(own.done).toEqual({ all: [1, 2, 3, 7, 12, 13, 14] });
  const written = newJobText(own);
  expect(JSON.parse(written).done).toBe('1-3, 7, 12-14');
  expect(read(written).job).toEqual(own);
  const several = read(job({ done: { '#000000': '2', '#0000ff': '4, 5' } })).job;
  expect(several.done).toEqual({ '#000000': [2], '#0000ff': [4, 5] });
  expect(read(newJobText(several)).job).toEqual(several);
});

it('knows the second of two sheets by its letter', () => {
  const own = read(
    job({ numbers: { '#000': [[1, 0, 0, 1]], '#000 b': [[1, 9, 9, 2]] }, done: { '#000000 B': '1', '#00F': '2' } }),
  ).job;
  expect(Object.keys(own.numbers)).toEqual(['#000000', '#000000 B']);
  expect(own.numbers['#000000 B']).toEqual([{ number: 1, x: 9, y: 9, areaMm2: 2 }]);
  expect(own.done).toEqual({ '#000000 B': [1], '#0000ff': [2] });
  expect(read(newJobText(own)).job).toEqual(own);
  expect(refusal(job({ done: { '#000 C': '1' } }))).toMatch(/"done\.#000 C" is "#000 C": write a colour/);
  expect(refusal(job({ done: { '#000 B': '1', '#000000 b': '2' } }))).toMatch(/stands here already/);
  expect(refusal(job({ ties: { '#000 B': [] } }))).toMatch(/"ties\.#000 B" is "#000 B": write a colour/);
});

it('reads the repeats and their steps', () => {
  const repeat = (more: object) => read(job(more)).job.repeat;
  expect(repeat({ repeat: 'half-drop' })).toEqual({ kind: 'drop', step: { p: 1, q: 2 } });
  expect(repeat({ repeat: 'drop' })).toEqual({ kind: 'drop', step: { p: 1, q: 2 } });
  expect(repeat({ repeat: 'brick', step: '2/6' })).toEqual({ kind: 'brick', step: { p: 1, q: 3 } });
  expect(repeat({ repeat: 'straight', step: '0' })).toEqual({ kind: 'straight', step: { p: 0, q: 1 } });
});

it('brings a step into range and says so', () => {
  const over = read(job({ repeat: 'drop', step: '4/3' }));
  expect(over.job.repeat).toEqual({ kind: 'drop', step: { p: 1, q: 3 } });
  expect(over.remarks.join()).toMatch(/4\/3.*1\/3/);
  const under = read(job({ repeat: 'brick', step: '-1/4' }));
  expect(under.job.repeat).toEqual({ kind: 'brick', step: { p: 3, q: 4 } });
  expect(under.remarks).toHaveLength(1);
  const whole = read(job({ repeat: 'drop', step: '1' }));
  expect(whole.job.repeat.kind).toBe('straight');
  expect(whole.remarks.join()).toContain('straight');
  expect(read(job({ repeat: 'drop', step: '1/3' })).remarks).toEqual([]);
});

it.each([
  ['{"okuri": 1,\n "motif" "x.svg"}', /line 2, column 10/],
  ['', /not JSON from line 1/],
  ['[1]', /in braces/],
  [job({ pages: { papr: 'A4' } }), /"pages\.papr" is not a key.*did you mean "paper"\?/],
  [job({ hedge: 1 }), /"hedge" is not a key.*it may hold .*motif/],
  ['{"okuri": 1, "motif": "x.svg", "__proto__": {"a": 1}}', /"__proto__" is not a key/],
  [{ motif: 'x.svg' }, /"okuri" is missing/],
  [job({ okuri: 2 }), /"okuri" is 2/],
  [{ okuri: 1 }, /"motif" is missing/],
  [job({ motif: ' ' }), /"motif" is empty/],
  [job({ width: 250 }), /"width" must be text in quotes.*not 250/],
  [job({ width: '250' }), /"width": the length "250" has no unit/],
  [job({ width: '-3mm' }), /"width"/],
  [job({ width: '4mm' }), /"width" is 4 mm: it must be from 5 mm to 3000 mm/],
  [job({ height: '3.5m' }), /"height" is 3500 mm/],
  [job({ repeat: 'sideways' }), /"repeat" must be one of straight, half-drop, drop, brick, not "sideways"/],
  [job({ step: '1/2' }), /"step" is 1\/2, but the repeat is straight/],
  [job({ repeat: 'half-drop', step: '1/3' }), /half-drop steps by 1\/2/],
  [job({ repeat: 'drop', step: '1/65' }), /"step"/],
  [job({ repeat: 'drop', step: '1/0' }), /"step"/],
  [job({ repeat: 'drop', step: 'halfway' }), /"step"/],
  [job({ across: 0 }), /"across" is 0/],
  [job({ hand: 'both' }), /"hand" must be one of right, left, not "both"/],
  [job({ gauze: 'yes' }), /"gauze" must be true or false, not "yes"/],
  [job({ pages: { mirror: 'yes' } }), /"pages\.mirror" must be "auto", true or false, not "yes"/],
  [job({ done: 'a few' }), /"done": "a" is no number of an opening/],
  [job({ done: '9-3' }), /"done": "9-3" runs backwards/],
  [job({ done: '1-9999999' }), /"done": "1-9999999" is no number.*1000000/],
  [job({ done: '1-200000' }), /"done": more than 100000 numbers/],
  [job({ done: { black: '3' } }), /"done\.black" is "black": write a colour/],
  [job({ done: [3] }), /"done" must be numbers such as "1-20, 24"/],
  [job({ numbers: [1, 2] }), /"numbers" must be a group with a key for each ink, not a list/],
  [job({ numbers: { '#000000': [[1, 2, 3]] } }), /"numbers\.#000000\[0\]"/],
  [
    job({
      numbers: {
        '#000000': [
          [1, 2, 3, 4],
          [1, 5, 6, 7],
        ],
      },
    }),
    /"numbers\.#000000" has the number 1 twice/,
  ],
  [job({ done: { '#000': '1', '#000000': '2' } }), /"done\.#000000" is an ink that stands here already/],
  [job({ across: 1.5 }), /"across" must be a whole number, not 1\.5/],
  [job({ across: 1e300 }), /"across"/],
  [job({ across: 9, down: 8 }), /72: at most 64/],
  [job({ cut: [] }), /"cut"/],
  [job({ cut: 'black' }), /"cut" must be "all" or a list/],
  [job({ cut: ['black'] }), /"cut" is "black": write a colour/],
  [job({ paperColour: '#12' }), /"paperColour"/],
  [job({ date: '2024-02-30' }), /"date"/],
  [job({ lap: '1m' }), /"lap" is 1000 mm/],
  [job({ joins: { gapShare: -1 } }), /"joins\.gapShare"/],
  [job({ joins: { gapMin: '1mm' } }), /"joins\.gapMin" is larger/],
  [job({ joins: [] }), /"joins" must be a group/],
  [job({ pages: { paper: 'A99' } }), /"pages\.paper"/],
  [job({ pages: { scaleAcross: 2 } }), /"pages\.scaleAcross" is 2: it must be from 0\.9 to 1\.1/],
  [job({ title: 'x'.repeat(3000) }), /"title" is too long/],
  [job({ fonts: [1] }), /"fonts\[0\]" must be text/],
  [job({ hold: { mode: 'all' }, spill: 'some' }), /and 1 more/],
])('refuses %j in one sentence with the path', (data, sentence) => {
  expect(refusal(data)).toMatch(sentence);
});

it('takes the punches that are owned, each once and from the smallest on', () => {
  expect(read(job({ punches: ['3mm', '1/8in', '2mm', '0.3cm'] })).job.punchesMm).toEqual([2, 3, 3.175]);
  expect(read(job({ punches: [] })).job.punchesMm).toEqual([]);
  expect(() => read(job({ punches: ['2mm', '60mm'] }))).toThrow(/punches.*60 mm: it must be from 0.2 mm to 50 mm/);
  expect(() => read(job({ punches: ['2mm', 'thin'] }))).toThrow(/punches/);
  expect(() => read(job({ punches: '2mm' }))).toThrow(/punches/);
});

it('survives a deep nest of brackets', () => {
  refusal(`${'['.repeat(200_000)}${']'.repeat(200_000)}`);
  refusal(`{"okuri": 1, "motif": ${'['.repeat(200_000)}${']'.repeat(200_000)}}`);
});

it('takes values of the command line in place of its own, and names them', () => {
  const over = (path: string, value: unknown, name: string): JobOverride => ({ path: path.split('.'), value, name });
  const base = job({ repeat: 'drop', step: '1/3', pages: { paper: 'A3', overlap: '8mm' } });
  const { job: read1 } = read(base, [over('repeat', 'brick', '--repeat'), over('pages.paper', 'Letter', '--paper')]);
  expect(read1.repeat).toEqual({ kind: 'brick', step: { p: 1, q: 2 } });
  expect(read1.pages).toMatchObject({ paper: 'Letter', overlapMm: 8 });
  expect(refusal(base, [over('width', '180', '--width')])).toContain('--width: the length "180" has no unit');
  expect(refusal(base, [over('pages.orientation', 'wide', '--orientation')])).toContain('--orientation must be one of');
  expect(refusal(base, [over('step', '1/2x', '--step')])).toContain('--step');
});

it('makes a job of a bare motif', () => {
  const { job: bare } = jobForMotif({ file: 'art/rose.svg', date: '2025-05-01' });
  expect(bare).toMatchObject({ title: 'rose', motif: 'art/rose.svg', date: '2025-05-01' });
});

it('writes what it reads', () => {
  const length = (min: number, max: number) =>
    fc.integer({ min: min * 100, max: max * 100 }).map((n) => `${n / 100}mm`);
  const jobs = fc.record(
    {
      okuri: fc.constant(1),
      motif: fc.constant('leaves.svg'),
      title: fc.string({ minLength: 1, maxLength: 20 }),
      width: fc.oneof(length(5, 3000), fc.constant('auto')),
      height: fc.oneof(length(5, 3000), fc.constant('9 7/8in')),
      repeat: fc.constantFrom('straight', 'half-drop', 'drop', 'brick'),
      across: fc.integer({ min: 1, max: 8 }),
      down: fc.integer({ min: 1, max: 8 }),
      cut: fc.constantFrom('all', ['#000000', '#ABC']),
      lap: fc.oneof(length(0, 10), fc.constant('auto')),
      punches: fc.array(fc.oneof(length(0.2, 50), fc.constant('1/8in')), { maxLength: 4 }),
      sheet: fc.record({ border: length(3, 500), dot: fc.constant('1/32in') }, { requiredKeys: [] }),
      cloth: fc.record({ width: length(50, 10_000), length: length(50, 100_000), seams: fc.boolean() }),
    },
    { requiredKeys: ['okuri', 'motif'] },
  );
  fc.assert(
    fc.property(jobs, (data) => {
      const first = read(data).job;
      const text = newJobText(first);
      const second = read(text).job;
      expect(newJobText(second)).toBe(text);
      const close = (a: unknown, b: unknown): void => {
        if (typeof a === 'number') expect(b).toBeCloseTo(a, 8);
        else if (typeof a === 'object' && a !== null)
          for (const key of Object.keys(a)) close(a[key as never], (b as never)[key]);
        else expect(b).toBe(a);
      };
      close(first, second);
    }),
  );
});
