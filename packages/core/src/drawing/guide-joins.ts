import type { Join } from '../joins/types.js';
import type { Finding, Severity } from '../motif/finding.js';
import type { Sheet } from '../stencil/types.js';
import { type GuidePages, LINE_MM } from './guide-layout.js';

/** Tables and lists stop at this many lines and say how many more there are. */
const MOST_ROWS = 60;

const RANK: Readonly<Record<Severity, number>> = { stop: 0, fix: 1, look: 2, note: 3 };
const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  stop: 'STOP',
  fix: 'Fix',
  look: 'Look',
  note: 'Note',
};

/** The joins that do not meet, the openings that go on into the held margin, and what was found. */
export function joinsThatMatter(
  pages: GuidePages,
  sheet: Sheet,
  { joins, findings }: { joins: readonly Join[]; findings: readonly Finding[] },
): void {
  const own = joins.filter((j) => j.ink === sheet.ink);
  const bad = own.filter((j) => j.state !== 'meets');
  pages.space(3);
  pages.heading('The joins that matter', 4 * LINE_MM);
  pages.paragraph({ text: joinCount(own, bad) });
  if (bad.length > 0) joinTable(pages, bad);
  crossingNumbers(pages, sheet);
  const shown = findings
    .filter((f) => f.severity !== 'note' && (f.measure?.ink === undefined || f.measure.ink === sheet.ink))
    .sort((a, b) => RANK[a.severity] - RANK[b.severity]);
  if (shown.length === 0) return;
  pages.heading('To settle before cutting');
  pages.list(shown.slice(0, MOST_ROWS).map((f) => `${SEVERITY_WORDS[f.severity]}: ${f.message}`));
  if (shown.length > MOST_ROWS)
    pages.paragraph({ text: `And ${shown.length - MOST_ROWS} more, see the check report.` });
}

function joinCount(all: readonly Join[], bad: readonly Join[]): string {
  if (all.length === 0) return 'No opening of this sheet crosses a seam: no join has to meet.';
  if (bad.length === 0) return `All ${all.length} joins meet.`;
  return `${all.length - bad.length} of ${all.length} joins meet. These do not; places are on the unit, mm from its upper left corner:`;
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
