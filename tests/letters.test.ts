import { checkReport, circleContour, type Drawing, type Item, type JobResult, type TextItem } from '@okuri/core';
import {
  cutGuideDrawing,
  judgedSheets,
  paperNames,
  placementMapDrawing,
  planOf,
  printSheetDrawings,
  printSheetPlans,
  proofFormDrawings,
  proofMapDrawing,
  secondCutStripDrawings,
  stencilDrawings,
} from '@okuri/core/inside';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { disc, box as rectangle, runShapes, stroke } from './whole-job/support.js';

// One letter before a number names one kind of thing, in every output of a job; and no two names on one drawing read as each other upside down.

const FONT = fontMetrics();

const ring = (id: string, x: number, y: number) => stroke(id, [circleContour({ x, y }, 12)], 4);

/** A job that has something of every kind: zones, ties that stay and ties that go, joins at seams and at stops, islands, weak places, several pages. */
function everything(): JobResult {
  return runShapes(
    [
      ring('held', 60, 60),
      ring('stays', 110, 60),
      ring('loose', 160, 60),
      rectangle('right', 190, 100, 215, 112),
      rectangle('left', -8, 100, 12, 112),
      rectangle('below', 90, 280, 104, 308),
      rectangle('above', 90, -12, 104, 9),
      disc('a', { x: 60, y: 150 }, 14),
      disc('b', { x: 89, y: 150 }, 14),
      disc('c', { x: 118, y: 150 }, 14),
    ],
    [210, 297],
    {
      gauze: true,
      pages: { paper: 'A4' },
      ties: {
        '#000000': [
          { id: 'T1', kind: 'release', from: [60, 44], to: [60, 52] },
          { id: 'T2', kind: 'printed', from: [110, 44], to: [110, 52] },
        ],
      },
    },
  );
}

function documents(result: JobResult): Drawing[] {
  return [
    ...stencilDrawings(result, FONT),
    ...printSheetDrawings(result, FONT),
    cutGuideDrawing(result, FONT),
    placementMapDrawing(result, planOf(result), FONT),
    ...secondCutStripDrawings(result, FONT),
    proofMapDrawing(result, FONT),
    ...proofFormDrawings(result, FONT),
  ];
}

function textItems(items: readonly Item[]): TextItem[] {
  return items.flatMap((item) => {
    if (item.kind === 'text') return [item];
    return item.kind === 'layer' || item.kind === 'clip' ? textItems(item.items) : [];
  });
}

function allTexts({ pages, groups }: Drawing): string[] {
  return [...Object.values(groups), ...pages.map(({ items }) => items)].flatMap(textItems).map(({ text }) => text);
}

describe('one letter, one kind', () => {
  it('over all outputs of a job that has every kind', () => {
    const result = everything();
    const [sheet] = judgedSheets(result);
    const names = paperNames(sheet);
    const { ends } = sheet;
    const strips = secondCutStripDrawings(result, FONT);
    const kinds: Readonly<Record<string, readonly string[]>> = {
      P: [
        ...printSheetPlans(result, FONT).flatMap(({ plan }) => plan.pages),
        ...strips.flatMap(({ pages }) => pages),
      ].map(({ name }) => name),
      Z: sheet.zones.map(({ letter }) => letter),
      T: names.ties.filter(({ tie }) => tie.kind === 'printed').map(({ name }) => name),
      R: names.ties.filter(({ tie }) => tie.kind === 'release').map(({ name }) => name),
      J: [...ends.joins, ...ends.firstCutEnds].map(({ name }) => name),
      W: [...names.islands, ...names.weak, ...names.gauze].map(({ name }) => name),
    };
    for (const [letter, own] of Object.entries(kinds)) expect(own.length, letter).toBeGreaterThan(0);
    const texts = [...documents(result).flatMap(allTexts), checkReport(result), JSON.stringify(result.job.ties)];
    const seen = new Set<string>();
    for (const text of texts) {
      // Names of papers are no names of ours.
      for (const [, letter, digits] of text
        .replaceAll(/\bA[0-9]\b/g, '')
        .matchAll(/(?<![\w#.])([A-Z])(\d+)(?![\w.]*[a-z])/g)) {
        // Legends show the first names of a kind.
        if (digits === '1' || digits === '2') expect(Object.keys(kinds), text).toContain(letter);
        else expect(kinds[letter] ?? [], text).toContain(`${letter}${digits}`);
        seen.add(letter);
      }
      // A letter alone is a dot.
      const alone = /^([A-Z])$/.exec(text)?.[1];
      if (alone !== undefined) expect(sheet.dots.map(({ name }) => name)).toContain(alone);
    }
    expect([...seen].sort()).toEqual(Object.keys(kinds).sort());
    const dots = new Set(sheet.dots.map(({ name }) => name));
    for (const letter of seen) expect(dots.has(letter)).toBe(false);
  });
});

/** How characters read upside down: those that are symmetric, and pairs. */
const TURNED = new Map(
  [
    '00',
    '11',
    '88',
    '69',
    '96',
    'HH',
    'II',
    'NN',
    'OO',
    'SS',
    'XX',
    'ZZ',
    'MW',
    'WM',
    'oo',
    'ss',
    'xx',
    'zz',
    'll',
    'dp',
    'pd',
  ]
    .concat(['bq', 'qb', 'nu', 'un', '()', ')(', '--', '··', '//'])
    .map(([from, to]) => [from, to] as const),
);

function upsideDown(text: string): string | null {
  const all = [...text].reverse().map((c) => TURNED.get(c));
  return all.includes(undefined) ? null : all.join('');
}

/** Pairs of texts that read as each other. */
function mixedUp(texts: Iterable<string>): string[] {
  const all = new Set(texts);
  return [...all].filter((text) => {
    const other = upsideDown(text);
    return other !== null && other !== text && all.has(other);
  });
}

const LABEL = /^\(?([A-Z]?\d+|\d+-\d+|[A-Z])\.?\)?( ✓)?$/;

describe('upside down', () => {
  it('no two names on a drawing of hundreds of openings read as each other, and only what needs it has a full stop', () => {
    const shapes = Array.from({ length: 260 }, (_, k) =>
      disc(`d${k}`, { x: 12 + 22 * (k % 20), y: 12 + 22 * Math.floor(k / 20) }, 7 + (k % 3)),
    );
    const result = runShapes(shapes, [440, 286], { cloth: { width: '1320mm', length: '3m' } });
    const [sheet] = result.sheets;
    const numbers = new Set(sheet.openings.map(({ number }) => `${number}`));
    expect(numbers.has('68') && numbers.has('89')).toBe(true);
    let stopped = 0;
    for (const drawing of documents(result)) {
      const pictures = [
        ...Object.values(drawing.groups),
        // Tables of measures and sums are read in their rows.
        ...drawing.pages
          .map(({ items }) => items)
          .filter(
            (items) => !drawing.title.includes('guide') || textItems(items).some(({ text }) => /^Zone Z/.test(text)),
          ),
      ];
      for (const items of pictures) {
        // Words of pictures are centred on their places, figures of rulers stand in their order; steps of lists, which are counted with a full stop, are not.
        const labels = textItems(items.filter((item) => item.kind !== 'layer' || item.id !== 'test-bars'))
          .filter(({ anchor }) => anchor === 'middle')
          .map(({ text }) => text.replace(' ✓', ''))
          .filter((text) => LABEL.test(text));
        expect(mixedUp(labels), drawing.title).toEqual([]);
        for (const label of labels) {
          const number = /^\(?(\d+)\.\)?$/.exec(label)?.[1];
          if (number === undefined) continue;
          stopped++;
          expect(numbers.has(upsideDown(number) ?? '')).toBe(true);
          expect(upsideDown(number)).not.toBe(number);
        }
      }
    }
    // 66, 68, 86, 89, 98, 99, 106, 109, … on several drawings.
    expect(stopped).toBeGreaterThan(20);
    const words = stencilDrawings(result, FONT)
      .flatMap(allTexts)
      .flatMap((text) => text.split(/[\s,.:;]+/));
    expect(mixedUp(words.filter((word) => !/\d/.test(word)))).toEqual([]);
  });

  it('placements of a plan are told apart on its map', () => {
    const result = runShapes([disc('a', { x: 25, y: 25 }, 9)], [50, 50], { cloth: { width: '500mm', length: '1m' } });
    const [drawing] = [placementMapDrawing(result, planOf(result), FONT)];
    const labels = allTexts(drawing).filter((text) => LABEL.test(text));
    expect(labels.length).toBeGreaterThan(20);
    expect(mixedUp(labels)).toEqual([]);
  });
});
