import type { Drawing, FontMetrics, Item, TextItem } from '@okuri/core';
import { textWidthMm } from '@okuri/core/inside';
import { ringOf } from './flatten.js';

/** Lines of cuts: first cut black, second cut blue, parts of other lists grey. */
const CUT_COLOURS: ReadonlySet<string> = new Set(['#000000', '#0072b2']);
/** A number may come this near to the flattened outline, mm: the flattening of the check itself. */
const SLACK_MM = 0.02;

interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** On a guide's zone pages: numbers that stand on the line of a cut, or on one another. Worked out by segments, apart from the guide's own check. */
export function numberFaults(drawing: Drawing, font: FontMetrics): string[] {
  return drawing.pages.flatMap((page) => {
    const texts = page.items.filter((i): i is TextItem => i.kind === 'text');
    if (!texts.some((t) => /^Zone Z\d+.*: .*true size/.test(t.text))) return [];
    const segments = cutSegments(page.items);
    const numbers = texts.filter((t) => t.anchor === 'middle' && /^\(?\d+\)?$/.test(t.text));
    const boxes = numbers.map((t) => boxOf(t, font));
    return numbers.flatMap((t, k) => {
      const faults: string[] = [];
      if (segments.some((s) => cuts(s, boxes[k]))) faults.push(`${page.name}: ${t.text} stands on a cut`);
      const other = boxes.findIndex((b, n) => n > k && meet(b, boxes[k]));
      if (other >= 0) faults.push(`${page.name}: ${t.text} stands on ${numbers[other].text}`);
      return faults;
    });
  });
}

function boxOf(t: TextItem, font: FontMetrics): Box {
  const cap = (t.sizeMm * font.bold.capHeight) / font.bold.unitsPerEm;
  const half = textWidthMm(t.text, { sizeMm: t.sizeMm, bold: t.bold === true }, font) / 2;
  return { x0: t.x - half, y0: t.y - cap, x1: t.x + half, y1: t.y };
}

function cutSegments(items: readonly Item[]): [number, number, number, number][] {
  return items
    .filter((i) => i.kind === 'clip')
    .flatMap((i) => i.items)
    .flatMap((i) => (i.kind === 'path' && CUT_COLOURS.has(i.line?.colour ?? '') ? i.contours : []))
    .flatMap((contour) => {
      const ring = ringOf(contour, 8);
      const ends = contour.closed ? ring.length : ring.length - 1;
      return ring.slice(0, ends).map(([x, y], k): [number, number, number, number] => {
        const [u, v] = ring[(k + 1) % ring.length];
        return [x, y, u, v];
      });
    });
}

/** Whether a segment passes through a box (Liang and Barsky's clipping, from memory). */
function cuts([x, y, u, v]: readonly [number, number, number, number], box: Box): boolean {
  let [from, to] = [0, 1];
  for (const [d, low, high] of [
    [u - x, box.x0 + SLACK_MM - x, box.x1 - SLACK_MM - x],
    [v - y, box.y0 + SLACK_MM - y, box.y1 - SLACK_MM - y],
  ]) {
    if (d === 0) {
      if (low > 0 || high < 0) return false;
      continue;
    }
    from = Math.max(from, Math.min(low / d, high / d));
    to = Math.min(to, Math.max(low / d, high / d));
  }
  return from < to;
}

function meet(a: Box, b: Box): boolean {
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}
