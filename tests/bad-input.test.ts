import { readFileSync } from 'node:fs';
import { InputError, type Motif, readJob } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { afterAll, describe, expect, it } from 'vitest';
import { layMotif } from './support/pattern.js';

// Broken and hostile artwork: one clear sentence within seconds, and never a crash, a hang or a silent half of a drawing. What the command
// makes of it (exit codes, files) is tested with the command.

/** The command has 10 s for the whole of it; reading alone must stay well under. */
const TIME_LIMIT_MS = 8_000;
/** The command has 2 GB. */
const MEMORY_LIMIT_BYTES = 2e9;

const head =
  '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">';
const page = (body: string) => `${head}${body}</svg>`;
const square = '<rect x="10" y="10" width="20" height="20"/>';

/** Runs an action within the time limit (of this process's own work: the machine may be busy) and gives what it returned or threw. */
function inTime<T>(action: () => T): { value: T } | { error: unknown } {
  const start = process.cpuUsage();
  const outcome = (() => {
    try {
      return { value: action() };
    } catch (error) {
      return { error };
    }
  })();
  const { user, system } = process.cpuUsage(start);
  expect((user + system) / 1000).toBeLessThan(TIME_LIMIT_MS);
  return outcome;
}

/** A refusal has to be an `InputError` with one sentence for a person. Anything else fails the test. */
function sentenceOf(error: unknown): string {
  expect(error).toBeInstanceOf(InputError);
  const { message } = error as InputError;
  expect(message.length).toBeGreaterThan(20);
  expect(message.length).toBeLessThan(500);
  expect(message).toMatch(/[.?!]$/);
  expect(message).not.toMatch(/\bundefined\b(?! entity)|\[object|TypeError|RangeError|Cannot read|call stack/i);
  expect(message).not.toContain('\n');
  return message;
}

/** What a person is told. */
function refusal(action: () => unknown): string {
  const outcome = inTime(action);
  return sentenceOf('error' in outcome ? outcome.error : null);
}

/** Read, and all of it finite; or refused. */
function readOrRefused(source: string | Uint8Array): Motif | string {
  const outcome = inTime(() => readSvg(source));
  if ('error' in outcome) return sentenceOf(outcome.error);
  for (const shape of outcome.value.shapes) {
    for (const { coords } of shape.contours) expect(coords.every(Number.isFinite)).toBe(true);
  }
  return outcome.value;
}

afterAll(() => {
  expect(process.memoryUsage().rss).toBeLessThan(MEMORY_LIMIT_BYTES);
});

describe('broken XML', () => {
  it.each([
    ['an empty file', ''],
    ['blanks', '  \n\t '],
    ['plain text', 'a vine'],
    ['not SVG', '<html><body/></html>'],
    ['SVG words without the SVG namespace', '<svg width="10mm" height="10mm"><rect width="5" height="5"/></svg><x>'],
    ['a missing end tag', `${head}<g>${square}`],
    ['crossed tags', `${head}<g><a>${square}</g></a></svg>`],
    ['an end cut off in a path', `${head}<path d="M0 0L10`],
    ['a doubled attribute', page('<rect x="1" x="2" width="3" height="4"/>')],
    ['an attribute without quotes', page('<rect width=3 height="4"/>')],
    ['a lone ampersand', page(`<title>leaf & vine</title>${square}`)],
    ['an entity nobody declared', page(`<title>&leaf;</title>${square}`)],
    ['two roots', `${page(square)}${page(square)}`],
    ['a tag in the midst of a tag', `${head}<rect <rect/></svg>`],
  ])('%s', (_, source) => {
    refusal(() => readSvg(source));
  });

  it.each([
    ['nothing at all', new Uint8Array()],
    ['zeros', new Uint8Array(4096)],
    ['a PNG', Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13])],
    ['a PDF', new TextEncoder().encode('%PDF-1.7\n1 0 obj\n<<>>\nendobj')],
    ['bytes that are no UTF-8', Uint8Array.from([...new TextEncoder().encode(head), 0xff, 0xfe, 0xc0, 0x80])],
  ])('%s', (_, bytes) => {
    refusal(() => readSvg(bytes));
  });

  it('is told with the line', () => {
    expect(refusal(() => readSvg(`${head}\n<g>\n<path d="M0 0"\n</svg>`))).toMatch(/line \d|\d+:\d+/);
  });
});

describe('bombs', () => {
  it('entities that unfold a billion times', () => {
    const doctype = Array.from({ length: 9 }, (_, k) => `<!ENTITY l${k + 1} "${`&l${k};`.repeat(10)}">`).join('');
    const source = `<!DOCTYPE svg [<!ENTITY l0 "leaf">${doctype}]>${page(`<title>&l9;</title>${square}`)}`;
    refusal(() => readSvg(source));
  });

  it('entities that hold each other', () => {
    refusal(() => readSvg(`<!DOCTYPE svg [<!ENTITY a "&b;"><!ENTITY b "&a;">]>${page(`<title>&a;</title>${square}`)}`));
  });

  it('an entity that is another file is never opened', () => {
    const neighbour = new URL('../fixtures/motifs/README.md', import.meta.url);
    expect(readFileSync(neighbour, 'utf8')).toContain('Small motifs');
    const source = `<!DOCTYPE svg [<!ENTITY f SYSTEM "${neighbour}">]>${page(`<text>&f;</text>${square}`)}`;
    const read = readOrRefused(source);
    expect(JSON.stringify(read)).not.toContain('Small motifs');
  });

  it('one large entity, used often', () => {
    const source = `<!DOCTYPE svg [<!ENTITY e "${'x'.repeat(4000)}">]>${page(`<title>${'&e;'.repeat(20_000)}</title>${square}`)}`;
    refusal(() => readSvg(source));
  });

  it('copies of copies of copies', () => {
    const levels = Array.from(
      { length: 30 },
      (_, k) => `<g id="g${k + 1}"><use xlink:href="#g${k}"/><use href="#g${k}" x="1"/></g>`,
    ).join('');
    refusal(() => readSvg(page(`<defs><g id="g0">${square}</g>${levels}</defs><use href="#g30"/>`)));
  });

  it.each([
    ['a copy of itself', '<g id="a"><use href="#a"/></g>'],
    ['two that hold each other', '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'],
    ['a symbol that holds itself', '<symbol id="s"><use href="#s"/></symbol><use href="#s"/>'],
  ])('loops: %s', (_, body) => {
    refusal(() => readSvg(page(body)));
    // With artwork beside it, the loop is refused or said, never passed over in silence.
    const read = readOrRefused(page(square + body));
    if (typeof read !== 'string') expect(read.notices.length).toBeGreaterThan(0);
  });

  it('a clip path that clips itself', () => {
    const source = page(
      `<clipPath id="c" clip-path="url(#c)">${square}</clipPath><g clip-path="url(#c)">${square}</g>`,
    );
    const read = readOrRefused(source);
    if (typeof read !== 'string') expect(read.notices.length).toBeGreaterThan(0);
  });

  it('elements nested 100,000 deep', () => {
    refusal(() => readSvg(page(`${'<g>'.repeat(100_000)}${square}${'</g>'.repeat(100_000)}`)));
  });

  it('50 MB of path', () => {
    const step = 'l1.25-1.5 1.5 1.25-1.25 1.5-1.5-1.25';
    const source = page(`<path d="M50 50${step.repeat(Math.ceil(50e6 / step.length))}z"/>`);
    expect(source.length).toBeGreaterThan(50e6);
    readOrRefused(source);
  });

  it('70 MB of blanks', () => {
    refusal(() => readSvg(page(' '.repeat(70e6) + square)));
  });

  it('style sheets with selectors that take for ever', () => {
    const rules = `${'g '.repeat(60)}path{fill:red}`.repeat(300);
    const source = page(
      `<style>${rules}</style>${'<g>'.repeat(120)}${'<path d="M0 0h5v5z"/>'.repeat(300)}${'</g>'.repeat(120)}`,
    );
    readOrRefused(source);
  });
});

describe('numbers that are none', () => {
  it.each([
    ['NaN in a path', '<path d="M10 10LNaN 20L30 30z"/>'],
    ['infinity in a path', '<path d="M10 10L1e999 20L30 30z"/>'],
    ['a coordinate beyond the moon', '<path d="M10 10L4e11 20L30 30z"/>'],
    ['NaN in a rectangle', '<rect x="NaN" y="1" width="5" height="5"/>'],
    ['infinity in a circle', '<circle cx="10" cy="10" r="Infinity"/>'],
    ['a transform with NaN', '<g transform="matrix(NaN 0 0 1 0 0)"><rect width="5" height="5"/></g>'],
    [
      'a scale of 1e300, twice',
      '<g transform="scale(1e300)"><g transform="scale(1e300)"><rect width="5" height="5"/></g></g>',
    ],
    ['a stroke of 1e400', '<path d="M10 10L30 30" fill="none" stroke="#000" stroke-width="1e400"/>'],
  ])('%s', (_, body) => {
    // Alone nothing usable is left; beside sound artwork it is refused or said.
    refusal(() => readSvg(page(body)));
    const read = readOrRefused(page(square + body));
    if (typeof read !== 'string') {
      expect(read.notices.length).toBeGreaterThan(0);
      layMotif(read);
    }
  });

  it('a path that breaks off in the middle is said', () => {
    const read = readSvg(page(`${square}<path d="M40 40h10v10h-10z M60 60h10q"/>`));
    expect(read.notices.length).toBeGreaterThan(0);
  });
});

describe('nothing to cut', () => {
  it.each([
    ['no shapes', ''],
    ['only groups', '<g><g/></g>'],
    ['nothing painted', '<rect width="5" height="5" fill="none"/>'],
    ['only hidden shapes', `<g display="none">${square}</g>`],
    ['only what is defined and never used', `<defs>${square}</defs>`],
    ['only a picture', '<image href="data:image/png;base64,AAAA" width="50" height="50"/>'],
  ])('%s', (_, body) => {
    refusal(() => readSvg(page(body)));
  });

  it.each([
    ['shapes without an inside', '<rect x="5" y="5" width="0" height="9"/><path d="M5 5h20"/>'],
    ['artwork wholly outside of the page', '<rect x="500" y="500" width="20" height="20"/>'],
    ['artwork of paper', '<rect x="5" y="5" width="20" height="20" fill="#ffffff"/>'],
  ])('%s: refused when read or when laid on a repeat', (_, body) => {
    const read = readOrRefused(page(body));
    if (typeof read !== 'string') refusal(() => layMotif(read));
  });
});

describe('sizes', () => {
  const sized = (size: string) => `<svg xmlns="http://www.w3.org/2000/svg" ${size}>${square}</svg>`;

  it.each([
    ['zero wide', 'width="0" height="10mm" viewBox="0 0 10 10"'],
    ['zero view box', 'width="100mm" height="100mm" viewBox="0 0 0 100"'],
    ['negative view box', 'width="100mm" height="100mm" viewBox="0 0 -10 -10"'],
    ['negative', 'width="-5mm" height="-5mm" viewBox="0 0 10 10"'],
    ['a kilometre', 'width="1000000mm" height="10mm" viewBox="0 0 100 100"'],
    ['a hair', 'width="0.001mm" height="0.001mm" viewBox="0 0 100 100"'],
    ['1e300', 'width="1e300mm" height="1e300mm" viewBox="0 0 100 100"'],
    ['NaN', 'width="NaN" height="NaN" viewBox="NaN NaN NaN NaN"'],
  ])('%s: refused, or read with a note', (_, size) => {
    const read = readOrRefused(sized(size));
    if (typeof read === 'string') return;
    expect(read.frame.widthMm).toBeGreaterThan(0);
    expect(read.notices.length).toBeGreaterThan(0);
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e9, 1e-9])('asked to be %d mm wide', (widthMm) => {
    refusal(() => readSvg(page(square), { widthMm }));
  });
});

describe('job files', () => {
  it.each([
    ['no JSON', '{ "okuri": 1, '],
    ['a list', '[]'],
    ['an unknown key', '{ "okuri": 1, "motif": "a.svg", "repaet": "straight" }'],
    ['an unknown key within', '{ "okuri": 1, "motif": "a.svg", "pages": { "papper": "A4" } }'],
    ['no motif', '{ "okuri": 1 }'],
    ['a width of zero', '{ "okuri": 1, "motif": "a.svg", "width": "0mm" }'],
    ['a width without a unit that makes sense', '{ "okuri": 1, "motif": "a.svg", "width": "12 parsecs" }'],
    ['a million units', '{ "okuri": 1, "motif": "a.svg", "across": 1000000 }'],
    ['half a unit', '{ "okuri": 1, "motif": "a.svg", "across": 0.5 }'],
    ['a step by nothing', '{ "okuri": 1, "motif": "a.svg", "repeat": "drop", "step": "1/0" }'],
    ['a key of the prototype', '{ "okuri": 1, "motif": "a.svg", "__proto__": { "width": "1mm" } }'],
    ['a number too large', '{ "okuri": 1, "motif": "a.svg", "pages": { "scaleAcross": 1e999 } }'],
  ])('%s', (_, text) => {
    const message = refusal(() => readJob(text, { file: 'leaves.okuri.json' }));
    expect(message).toContain('leaves.okuri.json');
  });

  it('an unknown key is named with its path', () => {
    const text = '{ "okuri": 1, "motif": "a.svg", "pages": { "papper": "A4" } }';
    expect(refusal(() => readJob(text, { file: 'j.okuri.json' }))).toMatch(/pages.*papper/);
  });
});
