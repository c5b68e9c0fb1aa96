import type { GuidePages } from '../../draw/layout.js';
import type { ProofReport, SheetEnds } from '../../proof/types.js';
import { spanName } from '../../register/say.js';
import { SPANS } from '../../register/spans.js';
import { MM_PER_INCH } from '../../units/constants.js';
import { formatMm } from '../../units/format.js';
import { nameRanges, offsetWords } from '../sheet/join-places.js';
import { measuredWords } from './second-cut-words.js';

/** Tables stop at this many lines and say how many more there are. */
const MOST_ROWS = 80;

/** What was laid over what, by what, and what it tells, in short. */
export function reportFacts(pages: GuidePages, report: ProofReport, ends: SheetEnds): void {
  const { laid, spreadMm, differences, distances, offsets, unmeasured } = report;
  const dpi = `${(laid.pixelsPerMm * MM_PER_INCH).toFixed(0)} dpi on the sheet`;
  const lost = laid.missingDots.length === 0 ? '' : `; not found: ${laid.missingDots.join(', ')}`;
  const by =
    laid.by === 'dots'
      ? `by the printed dots ${laid.dots.map(({ name }) => name).join(', ')}${lost}`
      : 'by the places of the corner dots as they were given';
  const far = laid.dots.reduce((most, { offMm }) => Math.max(most, offMm), 0);
  const count = (kind: string) => differences.filter((d) => d.kind === kind).length;
  const spread =
    Math.abs(spreadMm) < 0.005
      ? 'none on the whole'
      : `${formatMm(Math.abs(spreadMm))} ${spreadMm > 0 ? 'outward' : 'inward'} on the whole; taken off before the lead edges are compared`;
  pages.facts([
    ['Laid', `${by}; ${dpi}; farthest dot ${formatMm(far)} off.`],
    ['Spread of the print', `${spread}.`],
    ['Lead edges', measuredWords(ends, offsets)],
    [
      'Missing, extra',
      `${count('missing')} planned places did not print, ${count('extra')} printed beside the plan. Differences, not faults: they may be meant.`,
    ],
    ...(unmeasured.length > 0 ? [['No edge seen at', `${nameRanges(unmeasured)}.`] as const] : []),
    [
      'As printed',
      distances === null
        ? 'the picture has no scale but the dots themselves: it can’t say whether the sheet is square.'
        : `${SPANS.map((s) => `${spanName(s)} ${formatMm(distances[s], 1)}`).join(', ')}.`,
    ],
  ]);
}

/** Every lead edge with its offsets, the farthest first, and the offset at each of its joins. */
export function leadEdgeTable(pages: GuidePages, { leadEdges, offsets }: ProofReport, { joins }: SheetEnds): void {
  if (leadEdges.length === 0) return;
  const by = new Map(offsets.map((o) => [o.name, o.offsetMm]));
  const seams = new Map(joins.map((j) => [j.name, j.seam]));
  const at = (name: string): string => {
    const mm = by.get(name);
    return mm === undefined
      ? `${name} not seen`
      : `${name} ${offsetWords(seams.get(name) ?? 'right', mm)}`.replace(' mm', '');
  };
  const sorted = leadEdges.toSorted((a, b) => Math.abs(b.worstMm) - Math.abs(a.worstMm));
  pages.newPage();
  pages.heading('Lead edges');
  pages.paragraph({
    text: 'How far each edge was cut from its plan, across the outline: + the opening is larger. At the joins J: along the seam, mm.',
  });
  pages.space(1);
  pages.table(
    [
      { head: 'opening', share: 0.11 },
      { head: 'side', share: 0.13 },
      { head: 'mean', share: 0.1 },
      { head: 'farthest', share: 0.12 },
      { head: 'at its joins', share: 0.54 },
    ],
    sorted
      .slice(0, MOST_ROWS)
      .map((e) => [
        `${e.number}`,
        e.sides.join(', '),
        plusMinus(e.meanMm),
        plusMinus(e.worstMm),
        e.joins.map(at).join(', ') || '–',
      ]),
  );
  if (sorted.length > MOST_ROWS)
    pages.paragraph({ text: `And ${sorted.length - MOST_ROWS} more, nearer to the plan.` });
}

/** What is missing or beside the plan, the largest first. */
export function differenceTable(pages: GuidePages, { differences }: ProofReport): void {
  if (differences.length === 0) return;
  pages.heading('Missing and extra');
  pages.table(
    [
      { head: 'what', share: 0.34 },
      { head: 'area', share: 0.2 },
      { head: 'reaches', share: 0.18 },
      { head: 'at, from left and top of the sheet', share: 0.28 },
    ],
    differences
      .slice(0, MOST_ROWS)
      .map((d) => [
        d.kind === 'missing' ? `missing of ${d.number}` : `extra, by ${d.number}`,
        `${d.areaMm2.toFixed(1)} mm²`,
        formatMm(d.deepMm),
        `${d.at.x.toFixed(0)}, ${d.at.y.toFixed(0)} mm`,
      ]),
  );
  if (differences.length > MOST_ROWS) pages.paragraph({ text: `And ${differences.length - MOST_ROWS} more, smaller.` });
}

function plusMinus(mm: number): string {
  const text = Math.abs(mm).toFixed(2);
  return text === '0.00' ? '0' : `${mm < 0 ? '−' : '+'}${text}`;
}
