import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { comesTogether, countStates } from '../../joins/states.js';
import type { Join } from '../../joins/types.js';
import type { JoinView } from '../../joins/view-types.js';
import type { Finding, Severity } from '../../motif/finding.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';
import { inVoice } from '../../units/voice.js';
import { joinPictures } from './join-views.js';
import { proofSlides, vectorWords } from './slides.js';

/** Tables and lists stop at this many lines and say how many more there are. */
const MOST_ROWS = 60;

const RANK: Readonly<Record<Severity, number>> = { stop: 0, fix: 1, look: 2, note: 3 };
const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  stop: 'STOP',
  fix: 'Fix',
  look: 'Look',
  note: 'Note',
};

/** What must or should be settled before a sheet is cut, the gravest first; notes left out. */
export function findingsOf(sheet: Sheet, findings: readonly Finding[]): Finding[] {
  return findings
    .filter((f) => f.severity !== 'note' && (f.measure?.ink ?? sheet.ink) === sheet.ink)
    .filter((f) => (f.measure?.sheet ?? sheet.index) === sheet.index)
    .sort((a, b) => RANK[a.severity] - RANK[b.severity]);
}

/** About the height of a short list of what is to be settled, mm; a long one runs on to the next page. */
export function toSettleHeight(sheet: Sheet, findings: readonly Finding[]): number {
  const shown = findingsOf(sheet, findings).length;
  return shown === 0 ? 0 : 14 + Math.min(shown, 3) * (2 * LINE_MM + 0.5);
}

/** The list of what must be settled before cutting; nothing where there is nothing. */
export function toSettle(pages: GuidePages, sheet: Sheet, findings: readonly Finding[]): void {
  const shown = findingsOf(sheet, findings);
  if (shown.length === 0) return;
  pages.heading('To settle before cutting');
  pages.list(shown.slice(0, MOST_ROWS).map((f) => `${SEVERITY_WORDS[f.severity]}: ${inVoice(f, 'print')}`));
  if (shown.length > MOST_ROWS)
    pages.paragraph({ text: `And ${shown.length - MOST_ROWS} more, see the check report.` });
}

/** How the proof is slid from placement to placement, the joins that do not meet, and pictures of those that are still to be finished. */
export function joinsThatMatter(
  pages: GuidePages,
  sheet: Sheet,
  { joins, joinViews, lattice }: { joins: readonly Join[]; joinViews: readonly JoinView[] | null; lattice: Lattice },
): void {
  const own = joins.filter((j) => j.ink === sheet.ink);
  const bad = own.filter((j) => !comesTogether(j));
  pages.newPage();
  pages.heading('The proof and its joins', 4 * LINE_MM);
  slides(pages, sheet, lattice);
  pages.space(2);
  pages.paragraph({ text: joinCount(own, bad), bold: true });
  if (bad.length > 0) joinTable(pages, bad);
  crossingNumbers(pages, sheet);
  const views = (joinViews ?? []).filter((v) => v.join.ink === sheet.ink && v.part === sheet.part);
  if (views.length === 0) return;
  pages.space(1);
  pages.paragraph({
    text: 'The pictures that follow show the joins to finish, both sides as they come together. Ringed: where the outline meets the seam (thin dash and point).',
  });
  joinPictures(pages, views, { lattice, sheet });
}

function slides(pages: GuidePages, sheet: Sheet, lattice: Lattice): void {
  pages.paragraph({
    text: 'Trace the printed proof on film, or print it twice on paper, and slide one over the other from dot to dot as listed. At each slide look along the seam: do the shapes of both sides meet?',
  });
  pages.space(1);
  pages.table(
    [
      { head: 'slide', share: 0.1 },
      { head: 'by', share: 0.5 },
      { head: 'then these dots fall together', share: 0.4 },
    ],
    proofSlides(sheet, lattice).map(({ vector, pairs }, k) => [
      `${k + 1}`,
      vectorWords(vector),
      pairs.length > 0 ? pairs.map((p) => `${p.from} on ${p.to}`).join(', ') : 'no dots for this slide: measure it',
    ]),
  );
}

function joinCount(all: readonly Join[], bad: readonly Join[]): string {
  if (all.length === 0) return 'No opening of this sheet crosses a seam: no join has to meet.';
  const { bends } = countStates(all);
  const bend = bends === 0 ? '' : ` At ${bends} of them the outline bends.`;
  if (bad.length === 0) return `All ${all.length} joins meet.${bend}`;
  return `${all.length - bad.length} of ${all.length} joins meet.${bend} These do not; places are on the unit, mm from its upper left corner:`;
}

function joinTable(pages: GuidePages, bad: readonly Join[]): void {
  pages.space(1);
  pages.table(
    [
      { head: 'seam', share: 0.16 },
      { head: 'at x, y', share: 0.22 },
      { head: 'gap', share: 0.14 },
      { head: 'along the seam', share: 0.18 },
      { head: 'kink', share: 0.1 },
      { head: 'state', share: 0.2 },
    ],
    bad
      .slice(0, MOST_ROWS)
      .map((j) => [
        j.seam,
        `${j.at.x.toFixed(1)}, ${j.at.y.toFixed(1)}`,
        j.gapMm === null ? '–' : `${j.gapMm.toFixed(2)} mm`,
        j.offsetMm === null ? '–' : `${j.offsetMm.toFixed(2)} mm`,
        j.kinkDeg === null ? '–' : `${j.kinkDeg.toFixed(0)}°`,
        `${j.state === 'open' ? 'no partner' : 'off'}${j.flush ? ', flush' : ''}`,
      ]),
  );
  if (bad.length > MOST_ROWS) pages.paragraph({ text: `And ${bad.length - MOST_ROWS} more, see the check report.` });
}

function crossingNumbers(pages: GuidePages, sheet: Sheet): void {
  const crossing = sheet.openings.filter((o) => o.firstCut.length > 0 && o.secondCut.length > 0);
  if (crossing.length === 0) return;
  pages.space(1);
  pages.paragraph({
    text: `Openings that go on into the held margin, to be joined to the proof with care: ${crossing.map((o) => o.number).join(', ')}.`,
  });
}
