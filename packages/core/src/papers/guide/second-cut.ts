import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { scaleBar } from '../../draw/scale-bar.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import type { Box } from '../../geometry/types.js';
import type { ProofOffset, SheetEnds } from '../../proof/types.js';
import type { Lattice } from '../../repeat/types.js';
import type { JudgedSheet, SheetOpening } from '../../stencil/types.js';
import { proofForm } from '../proof/form.js';
import { proofMapPart } from '../proof/map.js';
import { measuredWords, secondCutSteps } from '../proof/second-cut-words.js';
import { stripPicture } from '../proof/strip-picture.js';
import { type CutStrip, cutStrips } from '../sheet/cut-strip.js';
import { endOffsetWords, offsetWords } from '../sheet/join-places.js';
import { fallsWithin, paperNames } from '../sheet/paper-names.js';
import { type Entry, runRows, toolRuns } from './tick-list.js';

/** Between two pieces of a strip on a page, mm. */
const APART_MM = 7;
/** Below the pieces: scale and bar, mm. */
const FOOT_MM = 2 * LINE_MM;

/** What the guide's second part is made from. */
export interface SecondCutWork {
  readonly lattice: Lattice;
  /** What a proof showed; none where there was no proof yet. */
  readonly offsets: readonly ProofOffset[];
}

/**
 * The second part of a sheet's guide. With a proof: what was measured, how to cut by the strips, the list to tick off with how far each edge moved, and the held margins at
 * true size. Without: the proof map, and the form to write down what the proof shows. Nothing for a sheet without a second cut.
 */
export function secondCutPages(pages: GuidePages, sheet: JudgedSheet, { lattice, offsets }: SecondCutWork): void {
  if (!sheet.openings.some((o) => o.secondCut.length > 0)) return;
  const { ends } = sheet;
  pages.newPage();
  if (sheet.secondCutFrom !== 'proof') {
    proofMapPart(pages, sheet, { lattice, ends, heading: 'Once the first cut is done: the proof' });
    if (ends.joins.length === 0) return;
    pages.newPage();
    proofForm(pages, sheet, ends);
    return;
  }
  pages.heading('The second cut, by the proof');
  pages.notice(measuredWords(ends, offsets));
  pages.space(1);
  pages.list(secondCutSteps(sheet), { numbered: true });
  pages.space(1);
  tickList(pages, sheet, { ends, offsets });
  for (const strip of cutStrips(sheet, { ends, offsets, lattice })) stripPages(pages, strip);
}

/** Every opening of the second cut in cutting order, with its joins and how far their edges lie off the plan. */
function tickList(
  pages: GuidePages,
  sheet: JudgedSheet,
  { ends, offsets }: { ends: SheetEnds; offsets: readonly ProofOffset[] },
): void {
  const by = new Map(offsets.map((o) => [o.name, o.offsetMm]));
  const openings = new Map(sheet.openings.map((o) => [o.number, o]));
  const order = sheet.zones.flatMap((z) => z.secondCut);
  const falls = fallsWithin(sheet, paperNames(sheet), 'second');
  const entries = order.flatMap((number): { opening: SheetOpening; entry: Entry }[] => {
    const opening = openings.get(number) as SheetOpening;
    if (opening.secondCut.length === 0) return [];
    const own = [
      ...ends.joins
        .filter(({ own: n }) => n === number)
        .map((j) => movedWords(j.name, offsetWords(j.seam, by.get(j.name) ?? 0))),
      ...ends.firstCutEnds
        .filter(({ opening: n }) => n === number)
        .map((e) => movedWords(e.name, endOffsetWords(e, by.get(e.name) ?? 0))),
    ];
    const fall = falls.get(number);
    if (fall !== undefined) own.unshift(`${fall}: ask for a tie first`);
    const entry = { number: uprightNumber(number, sheet.openings), done: false, remark: own.join(', ') };
    return [{ opening, entry }];
  });
  pages.paragraph({ text: 'Second cut, in this order', bold: true });
  pages.paragraph({
    text: 'J: a join, at a seam or at a stop; with how far the edge lies from the plan, where it does, mm: the outline already follows it. Numbers are in brackets on the pages of the zones too, larger.',
  });
  pages.space(0.8);
  runRows(pages, toolRuns(entries));
}

/** `J3 0.4 down`; the name alone where all is as planned. */
function movedWords(name: string, words: string): string {
  return words === 'as planned' ? name : `${name} ${words.replace(' mm', '')}`;
}

/** The strip at true size, in pieces side by side (right side) or one below the other (bottom). */
function stripPages(pages: GuidePages, strip: CutStrip): void {
  const right = strip.seam === 'right';
  const { box } = strip;
  const [long, broad] = right ? [box.y1 - box.y0, box.x1 - box.x0] : [box.x1 - box.x0, box.y1 - box.y0];
  const headMm = 16;
  const room = right
    ? { long: pages.height - headMm - FOOT_MM, broad: pages.width }
    : { long: pages.width, broad: pages.height - headMm - FOOT_MM };
  const scale = Math.min(1, room.broad / broad);
  const count = Math.ceil((long * scale) / room.long - 1e-9);
  const aPage = Math.max(1, Math.floor((room.broad + APART_MM) / (broad * scale + APART_MM)));
  const piece = long / count;
  const missing = new Set<number>();
  const heading = right ? 'The held margin of the right side' : 'The held margin of the bottom';
  for (let k = 0; k < count; k += aPage) {
    pages.newPage();
    pages.heading(k === 0 ? heading : `${heading}, continued`);
    const top = pages.y + 1;
    for (let n = k; n < Math.min(count, k + aPage); n++) {
      const window: Box = right
        ? { ...box, y0: box.y0 + n * piece, y1: box.y0 + (n + 1) * piece }
        : { ...box, x0: box.x0 + n * piece, x1: box.x0 + (n + 1) * piece };
      const by = (n - k) * (broad * scale + APART_MM);
      const at = right ? { x: pages.left + by, y: top } : { x: pages.left, y: top + by };
      const picture = stripPicture(strip, { window, scale, at }, pages.font);
      pages.add(...picture.items, ...picture.labels);
      for (const number of picture.missing) missing.add(number);
    }
    const shown = Math.min(count, k + aPage) - k;
    pages.y = top + (right ? piece * scale : shown * (broad * scale + APART_MM) - APART_MM) + 1;
    pages.add(...scaleBar({ right: pages.right, y: pages.y + 0.6 * LINE_MM, roomMm: 50 }, scale, pages.font));
    const size = scale === 1 ? 'True size' : `1 : ${Number((1 / scale).toFixed(2))}`;
    const words = right
      ? `${size}; pieces from left to right go on below each other.`
      : `${size}; the pieces follow one another.`;
    pages.y += LINE_MM;
    pages.add(pages.line(words, pages.left, pages.y - 0.28 * LINE_MM, { sizeMm: BODY_MM }));
  }
}
