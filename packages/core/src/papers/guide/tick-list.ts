import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS, RULE_GREY } from '../../draw/palette.js';
import { textWidthMm, wrapText } from '../../draw/text.js';
import type { Item } from '../../draw/types.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import type { SheetOpening } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import { drawnWords } from './practice-words.js';

/** One opening to tick off, by its number as its sheet writes it, or a tie by its name. */
export interface Entry {
  readonly number: string;
  /** Ticked off already. */
  readonly done: boolean;
  readonly remark: string;
}

/** Entries in a row of work with one tool. */
export interface ToolRun {
  readonly tool: string;
  /** What stands below the tool, such as the sizes that its holes are drawn with; nothing where it is empty. */
  readonly note: string;
  readonly entries: readonly Entry[];
}

/** Side of a box to tick, mm. */
export const TICK_BOX_MM = 3.6;
const NUMBER_EM_MM = 4;
/** A cell of the grid that entries stand on: an entry with a remark takes several, mm. */
const CELL_MM = 14.5;
const ROW_MM = 6;
const TOOL_MM = 25;
/** Rows that a tool takes up which has a note below it: the note stands one line of text lower. */
const NOTED_ROWS = 1.65;

/** `punch 2 mm`, `ruler`, `knife`. */
export function toolWords({ tool, punchMm }: Pick<SheetOpening, 'tool' | 'punchMm'>): string {
  return tool === 'punch' && punchMm !== null ? `punch ${formatMm(punchMm)}` : tool;
}

/** Entries gathered into runs with the same tool; their order stays. */
export function toolRuns(entries: readonly { readonly opening: SheetOpening; readonly entry: Entry }[]): ToolRun[] {
  const runs: { tool: string; openings: SheetOpening[]; entries: Entry[] }[] = [];
  for (const { opening, entry } of entries) {
    const tool = toolWords(opening);
    const last = runs[runs.length - 1];
    if (last?.tool === tool) {
      last.openings.push(opening);
      last.entries.push(entry);
    } else runs.push({ tool, openings: [opening], entries: [entry] });
  }
  return runs.map(({ tool, openings, entries: own }) => ({ tool, note: drawnWords(openings), entries: own }));
}

interface PlacedEntry {
  readonly entry: Entry;
  readonly x: number;
  readonly row: number;
  readonly lines: readonly string[];
}

interface Flow {
  readonly placed: readonly PlacedEntry[];
  readonly rows: number;
}

/** Sets entries on the grid, left to right, then on the next row. A remark that is longer than a row wraps under itself. */
function flow(pages: GuidePages, entries: readonly Entry[], left: number, minCellMm: number): Flow {
  const columns = Math.max(1, Math.floor((pages.right - left + 0.01) / CELL_MM));
  const least = Math.min(columns, Math.ceil(minCellMm / CELL_MM));
  const placed: PlacedEntry[] = [];
  let column = 0;
  let row = 0;
  let high = 1;
  for (const entry of entries) {
    const head = headWidth(pages, entry);
    const wide = head + (entry.remark ? textWidthMm(entry.remark, { sizeMm: BODY_MM }, pages.font) + 4 : 1);
    const cells = Math.min(columns, Math.max(least, Math.ceil(wide / CELL_MM)));
    if (column > 0 && column + cells > columns) {
      row += high;
      column = 0;
      high = 1;
    }
    const lines = entry.remark
      ? wrapText(entry.remark, Math.max(10, cells * CELL_MM - head - 2), { sizeMm: BODY_MM }, pages.font)
      : [];
    placed.push({ entry, x: left + column * CELL_MM, row, lines });
    high = Math.max(high, Math.ceil((lines.length * LINE_MM + 1.3) / ROW_MM));
    column += cells;
  }
  return { placed, rows: entries.length > 0 ? row + high : 0 };
}

function headWidth(pages: GuidePages, { number }: Entry): number {
  return TICK_BOX_MM + 1 + textWidthMm(number, { sizeMm: NUMBER_EM_MM, bold: true }, pages.font) + 1.2;
}

/** Entries beside their tool; a tool with a note below it takes more than one row. */
function runFlow(pages: GuidePages, { entries, note }: ToolRun): Flow {
  const { placed, rows } = flow(pages, entries, pages.left + TOOL_MM, 0);
  return { placed, rows: note === '' ? rows : Math.max(NOTED_ROWS, rows) };
}

/** Height that the runs of a tick list take up, mm. */
export function runsHeight(pages: GuidePages, runs: readonly ToolRun[]): number {
  return runs.reduce((sum, run) => sum + runFlow(pages, run).rows * ROW_MM + 1, 0);
}

/** A tick list: its tools down the left, the entries of each in cutting order to the right. */
export function runRows(pages: GuidePages, runs: readonly ToolRun[]): void {
  for (const run of runs) {
    drawFlow(pages, runFlow(pages, run), run);
    pages.y += 1;
  }
}

/** Entries without a tool, over the whole width. */
export function entryRows(pages: GuidePages, entries: readonly Entry[], { minCellMm = 0 } = {}): void {
  drawFlow(pages, flow(pages, entries, pages.left, minCellMm), { tool: '', note: '' });
  pages.space(1);
}

function drawFlow(pages: GuidePages, { placed, rows }: Flow, { tool, note }: Pick<ToolRun, 'tool' | 'note'>): void {
  const style = { sizeMm: BODY_MM };
  let first = 0;
  let top = pages.y;
  const toolWord = () => {
    if (tool) pages.add(pages.line(tool, pages.left, top + 0.7 * ROW_MM, style));
    if (note) pages.add(pages.line(note, pages.left, top + 0.7 * ROW_MM + LINE_MM, style));
  };
  pages.need((note ? NOTED_ROWS : 1) * ROW_MM);
  top = pages.y;
  toolWord();
  for (const { entry, x, row, lines } of placed) {
    const tall = Math.max(ROW_MM, lines.length * LINE_MM);
    if (top + (row - first) * ROW_MM + tall > pages.bottom) {
      pages.newPage();
      first = row;
      top = pages.y;
      toolWord();
    }
    const y = top + (row - first) * ROW_MM;
    pages.add(...tickBox(x, y + (ROW_MM - TICK_BOX_MM) / 2, { ticked: entry.done }));
    const number = { sizeMm: NUMBER_EM_MM, bold: true };
    pages.add(pages.line(entry.number, x + TICK_BOX_MM + 1, y + 0.74 * ROW_MM, number));
    lines.forEach((text, n) => {
      const at = x + headWidth(pages, entry);
      pages.add(pages.line(text, at, y + 0.74 * ROW_MM + n * LINE_MM, style));
    });
  }
  pages.y = top + (rows - first) * ROW_MM;
  pages.add({
    kind: 'path',
    contours: [
      polyline(
        [
          { x: pages.left, y: pages.y + 0.5 },
          { x: pages.right, y: pages.y + 0.5 },
        ],
        { closed: false },
      ),
    ],
    line: { colour: RULE_GREY, widthMm: 0.15 },
  });
}

/** A box to tick, ticked where that is done already. */
export function tickBox(x: number, y: number, { ticked = false, sideMm = TICK_BOX_MM } = {}): Item[] {
  const box = boxContour({ x0: x, y0: y, x1: x + sideMm, y1: y + sideMm });
  const tick = polyline(
    [
      { x: x + 0.18 * sideMm, y: y + 0.5 * sideMm },
      { x: x + 0.42 * sideMm, y: y + 0.8 * sideMm },
      { x: x + 0.92 * sideMm, y: y - 0.1 * sideMm },
    ],
    { closed: false },
  );
  return [
    { kind: 'path', contours: [box], line: { colour: COLOURS.black, widthMm: 0.25 } },
    ...(ticked
      ? [{ kind: 'path', contours: [tick], line: { colour: COLOURS.black, widthMm: 0.5 } } satisfies Item]
      : []),
  ];
}
