import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS } from '../../draw/palette.js';
import { wrapText } from '../../draw/text.js';

/** A short heading and what stands under it, set in a column of its own. */
export interface TextBlock {
  readonly heading: string;
  readonly texts: readonly string[];
  /** A mark before each text: none by default. */
  readonly mark?: 'bullet' | 'number';
}

const BLOCK_HEADING_MM = 4.2;
const INDENT_MM = 5;
/** Between two texts of a block, mm. */
const APART_MM = 0.4;
/** Between columns, mm. */
const GUTTER_MM = 7;
/** Below this width of the page two columns are too narrow to read, mm. */
const TWO_COLUMNS_MM = 150;

/** Distances of baselines to try, mm: the largest at which all fits on the page. */
export const LEADINGS_MM: readonly number[] = [LINE_MM, 4.25, 4];

/**
 * Blocks in one column or, where the page is wide enough, in two, in their order and as even as can be; each block is kept whole. Lines stand closer where the blocks would
 * not fit on the page else; what does not fit even then goes to the next page.
 */
export function textBlocks(
  pages: GuidePages,
  blocks: readonly TextBlock[],
  { leadingsMm = LEADINGS_MM }: { leadingsMm?: readonly number[] } = {},
): void {
  const columns = pages.width >= TWO_COLUMNS_MM ? 2 : 1;
  const width = (pages.width - (columns - 1) * GUTTER_MM) / columns;
  const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
  const setAt = (leading: number) => {
    const heights = blocks.map((b) => blockHeight(pages, b, { width, leading }));
    const split = columns === 1 ? blocks.length : evenSplit(heights);
    return { leading, heights, split, height: Math.max(sum(heights.slice(0, split)), sum(heights.slice(split))) };
  };
  const tries = leadingsMm.map(setAt);
  const { leading, heights, split, height } = tries.find((t) => t.height <= pages.room) ?? tries[0];
  if (columns === 1) {
    blocks.forEach((block, k) => {
      pages.need(heights[k]);
      drawBlock(pages, block, { x: pages.left, y: pages.y, width, leading });
      pages.y += heights[k];
    });
    return;
  }
  pages.need(height);
  const top = pages.y;
  let y = top;
  blocks.forEach((block, k) => {
    if (k === split) y = top;
    drawBlock(pages, block, { x: k < split ? pages.left : pages.left + width + GUTTER_MM, y, width, leading });
    y += heights[k];
  });
  pages.y = top + height;
}

function evenSplit(heights: readonly number[]): number {
  const all = heights.reduce((a, b) => a + b, 0);
  let best = { split: heights.length, height: all };
  let left = 0;
  heights.forEach((height, k) => {
    left += height;
    if (Math.max(left, all - left) < best.height) best = { split: k + 1, height: Math.max(left, all - left) };
  });
  return best.split;
}

function indentOf({ mark }: TextBlock): number {
  return mark ? INDENT_MM : 0;
}

function blockLines(pages: GuidePages, block: TextBlock, width: number): string[][] {
  return block.texts.map((t) => wrapText(t, width - indentOf(block), { sizeMm: BODY_MM }, pages.font));
}

function blockHeight(
  pages: GuidePages,
  block: TextBlock,
  { width, leading }: { width: number; leading: number },
): number {
  const lines = blockLines(pages, block, width);
  return 8.5 + lines.reduce((sum, l) => sum + l.length * leading + APART_MM, 0);
}

function drawBlock(
  pages: GuidePages,
  block: TextBlock,
  { x, y, width, leading }: { x: number; y: number; width: number; leading: number },
): void {
  pages.add(pages.line(block.heading, x, y + 6, { sizeMm: BLOCK_HEADING_MM, bold: true }));
  let top = y + 7.4;
  blockLines(pages, block, width).forEach((lines, k) => {
    if (block.mark) {
      const mark = block.mark === 'number' ? `${k + 1}.` : '•';
      pages.add(pages.line(mark, x, top + 0.72 * leading, { sizeMm: BODY_MM }));
    }
    for (const text of lines) {
      const style = { sizeMm: BODY_MM, colour: COLOURS.black };
      pages.add(pages.line(text, x + indentOf(block), top + 0.72 * leading, style));
      top += leading;
    }
    top += APART_MM;
  });
}
