import type { Plan } from '../../cloth/plan-types.js';
import { COLOURS } from '../../draw/palette.js';
import { wrapText } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxMiddle } from '../../geometry/boxes.js';
import { boxContour, circleContour } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import { formatMm } from '../../units/format.js';
import { counted } from '../../units/words.js';
import { PASS_STYLES_COUNT, passGround } from './passes.js';
import { MAP_LINES, MARK_MM, MASK_TINT, markCross, segment, UNPRINTED_TINT } from './symbols.js';

const EM_MM = 2.6;
const ROW_MM = 5;
const SWATCH_MM = { width: 9, height: 3.6 } as const;
const COLUMN_MM = 60;
const NOTE_LEADING_MM = 3.5;
/** The scale bar with its words. */
const BAR_MM = 8;
const BAR_MOST_MM = 60;
const BAR_PARTS = [10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000];

interface Entry {
  readonly swatch: (box: Box) => Item[];
  readonly text: string;
}

export interface MapLegendOptions {
  readonly plan: Plan;
  /** What else has to be said, one sentence each. */
  readonly notes: readonly string[];
  readonly font: FontMetrics;
}

/** How high the legend is on a page of this inner width, mm. */
export function legendHeight(widthMm: number, options: MapLegendOptions): number {
  const { rows } = entryGrid(widthMm, options);
  return rows.reduce((sum, mm) => sum + mm, 0) + noteLines(widthMm, options).length * NOTE_LEADING_MM + BAR_MM + 2;
}

/** What hatchings, lines and numbers mean, notes, and a scale bar; `box` is as high as `legendHeight` says. */
export function mapLegend(box: Box, scale: number, options: MapLegendOptions): Item[] {
  const { each, entries, rows } = entryGrid(box.x1 - box.x0, options);
  const items: Item[] = entries.flatMap(({ swatch, lines }, k) => {
    const row = k % rows.length;
    const [x0, y0] = [
      box.x0 + Math.floor(k / rows.length) * each,
      box.y0 + rows.slice(0, row).reduce((a, b) => a + b, 0),
    ];
    const area = { x0, y0, x1: x0 + SWATCH_MM.width, y1: y0 + SWATCH_MM.height };
    return [...swatch(area), ...lines.map((text, n) => line(text, area.x1 + 2, y0 + 2.75 + n * NOTE_LEADING_MM))];
  });
  const notes = noteLines(box.x1 - box.x0, options);
  const from = box.y0 + rows.reduce((sum, mm) => sum + mm, 0) + 2.4;
  const set = notes.map((text, k) => line(text, box.x0, from + k * NOTE_LEADING_MM));
  return [...items, ...set, ...scaleBar(box.x0, from + notes.length * NOTE_LEADING_MM - 1, scale)];
}

/** The entries down one column after the other, their words in lines, and how high each row is. */
function entryGrid(
  widthMm: number,
  { plan, font }: MapLegendOptions,
): { each: number; entries: (Omit<Entry, 'text'> & { lines: string[] })[]; rows: number[] } {
  const columns = columnsIn(widthMm);
  const each = widthMm / columns;
  const words = each - SWATCH_MM.width - 4;
  const entries = entriesOf(plan).map(({ swatch, text }) => {
    return { swatch, lines: wrapText(text, words, { sizeMm: EM_MM }, font) };
  });
  const count = Math.ceil(entries.length / columns);
  const rows = Array.from({ length: count }, (_, row) => {
    const most = Math.max(...entries.filter((_, k) => k % count === row).map(({ lines }) => lines.length));
    return ROW_MM + (most - 1) * NOTE_LEADING_MM;
  });
  return { each, entries, rows };
}

function columnsIn(widthMm: number): number {
  return Math.max(1, Math.floor(widthMm / COLUMN_MM));
}

function noteLines(widthMm: number, { notes, font }: MapLegendOptions): string[] {
  return notes.flatMap((text) => wrapText(text, widthMm, { sizeMm: EM_MM }, font));
}

function entriesOf(plan: Plan): Entry[] {
  const { passes, masks, ground, placements, cloth } = plan;
  const outlined =
    (pass: number) =>
    (box: Box): Item[] => [
      { kind: 'clip', contours: [boxContour(box)], items: passGround(pass, box) },
      { kind: 'path', contours: [boxContour(box)], line: MAP_LINES.placement },
    ];
  const stroke =
    (name: keyof typeof MAP_LINES) =>
    (box: Box): Item[] => {
      const y = (box.y0 + box.y1) / 2;
      return [{ kind: 'path', contours: [segment({ x: box.x0, y }, { x: box.x1, y })], line: MAP_LINES[name] }];
    };
  const reaches = placements.some(({ whole }) => !whole);
  const { usable, table } = cloth;
  const unprinted = usable.x0 > 0 || usable.y0 > 0 || usable.x1 < table.widthMm || usable.y1 < table.lengthMm;
  return [
    ...passes.slice(0, PASS_STYLES_COUNT).map(
      ({ pass, placements: count }): Entry => ({
        swatch: outlined(pass),
        text: `pass ${pass}: ${counted(count, 'placement')}`,
      }),
    ),
    { swatch: stroke('cloth'), text: 'edge of the cloth' },
    ...(unprinted
      ? [
          {
            swatch: (box: Box): Item[] => [{ kind: 'path', contours: [boxContour(box)], fill: UNPRINTED_TINT }],
            text: 'cloth that stays unprinted',
          },
        ]
      : []),
    ...(reaches ? [{ swatch: stroke('beyond'), text: 'beyond the print: on a mask or on waste' }] : []),
    ...(masks.length > 0
      ? [
          {
            swatch: (box: Box): Item[] => [
              { kind: 'path', contours: [boxContour(box)], fill: MASK_TINT },
              {
                kind: 'path',
                contours: [segment({ x: box.x0, y: box.y0 }, { x: box.x1, y: box.y0 })],
                line: MAP_LINES.mask,
              },
            ],
            text: 'mask, laid with this edge to the print',
          },
        ]
      : []),
    ...(ground === null
      ? []
      : [
          { swatch: stroke('ground'), text: 'ground line' },
          {
            swatch: (box: Box): Item[] => {
              const at = boxMiddle(box);
              return [
                { kind: 'path', contours: markCross(at), line: MAP_LINES.mark },
                { kind: 'path', contours: [circleContour(at, MARK_MM)], line: MAP_LINES.mark },
              ];
            },
            text: 'check mark, in mm from the zero',
          },
        ]),
  ];
}

function line(text: string, x: number, y: number): Item {
  return { kind: 'text', text, x, y, sizeMm: EM_MM, colour: COLOURS.black };
}

/** Black and white parts of a round length on the cloth. */
function scaleBar(x: number, y: number, scale: number): Item[] {
  const fitting = BAR_PARTS.filter((mm) => 4 * mm * scale <= BAR_MOST_MM);
  const part = fitting[fitting.length - 1] ?? BAR_PARTS[0];
  const width = part * scale;
  const parts = [0, 1, 2, 3].map((k) => boxContour({ x0: x + k * width, y0: y, x1: x + (k + 1) * width, y1: y + 1.6 }));
  const frame = { colour: COLOURS.black, widthMm: 0.2 };
  return [
    { kind: 'path', contours: [parts[0], parts[2]], fill: COLOURS.black },
    { kind: 'path', contours: parts, line: frame },
    line('0', x, y + 4.8),
    line(
      `${metres(4 * part)} on the cloth; about 1 : ${Number((1 / scale).toPrecision(3))}, not for measuring`,
      x + 4 * width + 2,
      y + 1.8,
    ),
    { ...(line(metres(2 * part), x + 2 * width, y + 4.8) as Item & { kind: 'text' }), anchor: 'middle' },
    { ...(line(metres(4 * part), x + 4 * width, y + 4.8) as Item & { kind: 'text' }), anchor: 'middle' },
  ];
}

function metres(mm: number): string {
  return mm >= 1_000 ? `${mm / 1_000} m` : formatMm(mm);
}
