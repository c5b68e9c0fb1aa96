import { inVoice, type Point, type ProofReport } from '@okuri/core';
import { type LeadEdge, rectangleDistances, SPANS } from '@okuri/core/inside';
import { InParts } from '../controls/in-parts';
import { distanceTexts, takeOverEdit } from '../state/proof-edits';
import type { ComparedProof } from '../state/proof-state';
import type { Studio } from '../state/studio';
import { useStudio } from '../state/use-studio';
import { offsetText } from '../words/offsets';
import { differenceWords } from '../words/proof';
import { SEVERITY_WORDS } from '../words/severity';
import { SPAN_NAMES } from '../words/spans';
import { useSheetJob } from './use-job';

/** How much is seen around a place that one goes to, mm. */
const AROUND_MM = 30;
/** Edges nearer to the plan than a knife is good for are counted, not listed, mm. */
const TOLD_MM = 0.2;

/** What a compared proof tells, and what of it is taken over. */
export function ProofTold({ compared }: { readonly compared: ComparedProof }) {
  const { studio } = useStudio();
  const job = useSheetJob();
  const { report, laid, findings, of } = compared;
  const distances = distanceTexts(report);
  if (job === null) return null;
  const takeOver = (): void => {
    const { path, value } = takeOverEdit(job, of, report);
    studio.edit(path, value);
    const measured = new Set(report.offsets.map(({ name }) => name));
    const at = of.ends.joins.find(({ name }) => measured.has(name))?.at ?? null;
    studio.set({
      view: 'sheet',
      sheetLook: 'cut',
      goTo: { view: 'sheet', at, widthMm: 2 * AROUND_MM },
      said: `The job keeps ${report.offsets.length} offsets now, and its second cut follows them. Undo takes them out again.`,
    });
  };
  return (
    <>
      <h3>What the print tells</h3>
      <div class="proof-tools">
        <button type="button" disabled={report.offsets.length === 0} onClick={takeOver}>
          Take the offsets over into the job
        </button>
        <button type="button" onClick={() => studio.set({ view: 'sheet', sheetLook: 'print' })}>
          Show the print over the plan
        </button>
      </div>
      <p class="fact">
        The proof is laid {laid}. {Math.round(100 * report.laid.agreement)} % of print and plan agree.
      </p>
      <ul class="proof-list">
        {findings.map((finding) => (
          <li key={finding.code + finding.message}>
            <span aria-hidden="true">{SEVERITY_WORDS[finding.severity].sign}</span>{' '}
            <strong>{SEVERITY_WORDS[finding.severity].word}:</strong> {inVoice(finding, 'window')}
          </li>
        ))}
      </ul>
      {distances !== null && (
        <>
          <Distances report={report} />
          <p class="fact">
            <button
              type="button"
              onClick={() => {
                // A sheet prints soaked, where it is soaked at all.
                studio.change({ ...studio.project, measured: distances, measuredWhen: 'wet' });
                studio.set({ said: 'The six distances stand in the step Squaring now.' });
              }}
            >
              Take the six distances over into Squaring
            </button>
          </p>
        </>
      )}
      <LeadEdges edges={report.leadEdges} />
      <details class="proof-list">
        <summary>Where print and plan differ, which may be meant ({report.differences.length})</summary>
        {report.differences.length === 0 && <p class="fact">Print and plan hold the same openings.</p>}
        <InParts things={report.differences.map((one, k) => ({ ...one, k }))} what="differences">
          {(one) => (
            <li key={one.k}>
              <button type="button" class="finding" onClick={() => goOverPrint(studio, one.at)}>
                {differenceWords(one)}
              </button>
            </li>
          )}
        </InParts>
      </details>
    </>
  );
}

/** The six distances as printed, beside those of the plan. */
function Distances({ report: { distances, square } }: { readonly report: ProofReport }) {
  if (distances === null) return null;
  const targets = square?.targets ?? null;
  const planned = targets === null ? null : rectangleDistances(targets.widthMm, targets.heightMm);
  return (
    <table class="facts">
      <caption>From dot to dot as printed, mm</caption>
      <thead>
        <tr>
          <th scope="col">Distance</th>
          <th scope="col">Printed</th>
          <th scope="col">Differs</th>
        </tr>
      </thead>
      <tbody>
        {SPANS.map((span) => (
          <tr key={span}>
            <th scope="row">{SPAN_NAMES[span]}</th>
            <td>{distances[span].toFixed(1)}</td>
            <td>{planned === null ? '' : offsetText(distances[span] - planned[span], 'mm')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Lead edges that a knife could have cut truer, the farthest first. */
function LeadEdges({ edges }: { readonly edges: readonly LeadEdge[] }) {
  const { studio, state } = useStudio();
  const { units } = state;
  const sorted = edges.toSorted((a, b) => Math.abs(b.worstMm) - Math.abs(a.worstMm));
  const told = sorted.filter(({ worstMm }) => Math.abs(worstMm) >= TOLD_MM);
  return (
    <details class="proof-list">
      <summary>
        Lead edges {offsetText(TOLD_MM, units).slice(1)} or farther from the plan ({told.length} of {edges.length})
      </summary>
      <p class="field-hint">Across the outline; above zero the opening is larger than planned.</p>
      <InParts things={told} what="edges">
        {({ number, sides, meanMm, worstMm, worstAt, joins }) => (
          <li key={number}>
            <button type="button" class="finding" onClick={() => goOverPrint(studio, worstAt)}>
              opening {number}, {sides.join(' and ')}: farthest {offsetText(worstMm, units)}, in the mean{' '}
              {offsetText(meanMm, units)}
              {joins.length === 0 ? '' : `; ${joins.join(', ')}`}
            </button>
          </li>
        )}
      </InParts>
    </details>
  );
}

function goOverPrint(studio: Studio, at: Point): void {
  studio.set({
    view: 'sheet',
    sheetLook: 'print',
    proofEnd: null,
    goTo: { view: 'sheet', at, widthMm: AROUND_MM },
  });
}
