import { BODY_MM, GuidePages, LINE_MM, type PaperSize } from '../../draw/layout.js';
import { GREY, RULE_GREY } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { type TextStyle, textWidthMm } from '../../draw/text.js';
import type { Drawing, FontMetrics, Item } from '../../draw/types.js';
import { writableText } from '../../draw/writable-text.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import type { FirstCutEnd, SheetEnds, SheetJoin } from '../../proof/types.js';
import type { Sheet } from '../../stencil/types.js';
import { edgeWords, fromDot } from '../sheet/join-places.js';
import { sheetName } from '../sheet/paper-words.js';

/** Rows are high enough to write in, mm. */
const ROW_MM = 6.2;
const GUTTER_MM = 6;
const NAME_EM_MM = 3.8;
/** Between the parts of a row, and the least a part takes, mm. */
const APART_MM = 2;
const PART_LEAST_MM = { name: 12, place: 28, of: 17 } as const;
/** The box to write in, mm. */
const BOX_MM = 21;

export interface ProofFormOptions {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly font: FontMetrics;
  /** Upright: A4 or Letter as a rule. */
  readonly paper: PaperSize;
  readonly ends: SheetEnds;
}

/** A form to write down by hand, at every join of a sheet, how far its lead edge lies from the plan: for proofs that are not scanned. */
export function proofFormDrawing(sheet: Sheet, options: ProofFormOptions): Drawing {
  const { font, paper, date, ends } = options;
  const title = writableText(options.title, font).text;
  const pages = new GuidePages(paper, font);
  pages.title(title);
  const revision = writableText(options.revision, font).text;
  pages.paragraph({ text: `${sheetName(sheet)} · revision ${revision} · ${date}`, bold: true });
  proofForm(pages, sheet, ends);
  const name = sheet.count > 1 ? `${options.title} – ${sheetName(sheet)}` : options.title;
  const finished = pages.finish(title, ['measured at the joins']);
  return roundDrawing({ title: `${name} – measured at the joins`, date, groups: {}, pages: finished });
}

/** The form from where the page stands on: how to measure, then a row with a box for every join. */
export function proofForm(pages: GuidePages, sheet: Sheet, { joins, firstCutEnds }: SheetEnds): void {
  pages.heading('Measured at the joins', 12 * LINE_MM);
  if (joins.length === 0) {
    pages.paragraph({ text: 'No second cut of this sheet comes to a seam: there is nothing to measure.' });
    return;
  }
  pages.list(
    [
      'Take a dry proof on which the next placement is printed (proof map), or lay the print of the next placement under the sheet, dot on dot.',
      'At each join J measure with a scale, along the seam, how far the printed lead edge lies from its planned place: the place named here, or the spot J on a strip of the plan laid dot on dot.',
      'Right side: down is +, up is −. Bottom: to the right is +, to the left is −. Write mm to 0.1; leave the box empty where there is no edge to see.',
      'Only if a first cut went past or fell short of its outline at the stop: write it at that stop’s J, along the stop, + down or to the right.',
    ],
    { numbered: true },
  );
  pages.space(1.5);
  const along = (seam: SheetJoin['seam']) => joins.filter((j) => j.seam === seam).map((join) => joinRow(join, sheet));
  rows(pages, { heading: 'Right side', heads: ['mm from dot', 'edge of', '+ down'] }, along('right'));
  rows(pages, { heading: 'Bottom', heads: ['mm from dot', 'edge of', '+ right'] }, along('bottom'));
  rows(pages, { heading: 'Stops', heads: ['mm from left, top', 'of', '+ down, right'] }, firstCutEnds.map(endRow));
  pages.space(1);
  pages.paragraph({
    text: 'An empty box means: as planned. Hand the form back with the print: the second cut and its strips follow these numbers.',
  });
}

interface Row {
  readonly name: string;
  readonly place: string;
  readonly of: string;
  /** Said instead of a box to write in. */
  readonly instead?: string;
}

interface RowHead {
  readonly heading: string;
  readonly heads: readonly [place: string, of: string, box: string];
}

function joinRow(join: SheetJoin, sheet: Sheet): Row {
  const from = fromDot(sheet, join.seam, join.at);
  const edge = edgeWords(join).replace(' edge', '');
  const place = from === null ? '' : from.words.replace(' mm', '').replace('dot ', '');
  // Near the end of a lead side its edge waits in the held margin itself.
  const instead = join.leadCut === 'second' ? { instead: 'not printed' } : {};
  return { name: join.name, place, of: `${edge} ${join.own}`, ...instead };
}

function endRow({ name, opening, at }: FirstCutEnd): Row {
  return { name, place: `${at.x.toFixed(0)}, ${at.y.toFixed(0)}`, of: `${opening}` };
}

/** Rows in two columns where the page is wide enough, down the left one first; on the next page again. */
function rows(pages: GuidePages, { heading, heads }: RowHead, all: readonly Row[]): void {
  if (all.length === 0) return;
  const parts = partWidths(pages, heads, all);
  const columns = (pages.width - GUTTER_MM) / 2 >= parts.name + parts.place + parts.of + BOX_MM ? 2 : 1;
  const width = (pages.width - (columns - 1) * GUTTER_MM) / columns;
  for (let k = 0; k < all.length; ) {
    pages.need(3 * LINE_MM + 3 * ROW_MM);
    pages.space(1);
    pages.paragraph({ text: `${heading}${k === 0 ? '' : ', continued'}`, bold: true });
    const used = Math.min(columns, all.length - k);
    for (let n = 0; n < used; n++) headItems(pages, heads, { x: pages.left + n * (width + GUTTER_MM), width, parts });
    pages.y += LINE_MM;
    const fit = Math.max(1, Math.floor(pages.room / ROW_MM));
    const down = Math.min(fit, Math.ceil((all.length - k) / columns));
    const shown = all.slice(k, k + down * columns);
    const top = pages.y;
    shown.forEach((row, n) => {
      const x = pages.left + Math.floor(n / down) * (width + GUTTER_MM);
      pages.add(...rowItems(pages, row, { x, y: top + (n % down) * ROW_MM, width, parts }));
    });
    pages.y = top + down * ROW_MM;
    k += shown.length;
  }
}

interface PartWidths {
  readonly name: number;
  readonly place: number;
  readonly of: number;
}

/** How wide the parts of rows have to be, mm: each holds its longest words in one line. */
function partWidths(pages: GuidePages, [place, of]: RowHead['heads'], all: readonly Row[]): PartWidths {
  const longest = (texts: readonly string[], style: TextStyle, least: number): number =>
    texts.reduce((most, text) => Math.max(most, textWidthMm(text, style, pages.font) + APART_MM), least);
  const body = { sizeMm: BODY_MM };
  return {
    name: longest(
      all.map((row) => row.name),
      { sizeMm: NAME_EM_MM, bold: true },
      PART_LEAST_MM.name,
    ),
    place: longest([place, ...all.map((row) => row.place)], body, PART_LEAST_MM.place),
    of: longest([of, ...all.map((row) => row.of)], body, PART_LEAST_MM.of),
  };
}

function headItems(
  pages: GuidePages,
  heads: RowHead['heads'],
  { x, width, parts }: { x: number; width: number; parts: PartWidths },
): void {
  const base = pages.y + 0.72 * LINE_MM;
  const style = { sizeMm: BODY_MM, colour: GREY };
  const [place, of, box] = heads;
  pages.add(pages.line(place, x + parts.name, base, style), pages.line(of, x + parts.name + parts.place, base, style), {
    ...pages.line(box, x + width, base, style),
    anchor: 'end',
  });
}

function rowItems(
  pages: GuidePages,
  { name, place, of, instead }: Row,
  at: { x: number; y: number; width: number; parts: PartWidths },
): Item[] {
  const { x, y, width, parts } = at;
  const base = y + ROW_MM / 2 + 0.35 * BODY_MM;
  const box = { x0: x + width - BOX_MM, y0: y + 0.6, x1: x + width, y1: y + ROW_MM - 0.6 };
  const under = polyline(
    [
      { x, y: y + ROW_MM },
      { x: x + width, y: y + ROW_MM },
    ],
    { closed: false },
  );
  const style = { sizeMm: BODY_MM };
  return [
    pages.line(name, x, base, { sizeMm: NAME_EM_MM, bold: true }),
    pages.line(place, x + parts.name, base, style),
    pages.line(of, x + parts.name + parts.place, base, style),
    instead === undefined
      ? { kind: 'path', contours: [boxContour(box)], line: { colour: GREY, widthMm: 0.25 } }
      : { ...pages.line(instead, x + width, base, { ...style, colour: GREY }), anchor: 'end' },
    { kind: 'path', contours: [under], line: { colour: RULE_GREY, widthMm: 0.1 } },
  ];
}
