import { InputError, parseMeasurement, type SquareSheet } from '@okuri/core';
import { drySize, type PaperState, rectangleDistances, SPANS, type Span, squareLimits } from '@okuri/core/inside';
import { ChoiceField } from '../controls/choice-field';
import { ReportText } from '../controls/report-text';
import { TypedField } from '../controls/typed-field';
import type { SquareReadings } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import type { MeasuredTexts } from '../state/project';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { lengthText, lengthWords, type Units } from '../words/lengths';

/** Between which corners a distance lies, and how it is called. */
const WORDS: Readonly<Record<Span, { readonly name: string; readonly ends: readonly [Corner, Corner] }>> = {
  top: { name: 'Top, upper left to upper right hole', ends: ['upperLeft', 'upperRight'] },
  right: { name: 'Right, upper right to lower right hole', ends: ['upperRight', 'lowerRight'] },
  bottom: { name: 'Bottom, lower left to lower right hole', ends: ['lowerLeft', 'lowerRight'] },
  left: { name: 'Left, upper left to lower left hole', ends: ['upperLeft', 'lowerLeft'] },
  falling: { name: 'Diagonal, upper left to lower right hole', ends: ['upperLeft', 'lowerRight'] },
  rising: { name: 'Diagonal, lower left to upper right hole', ends: ['lowerLeft', 'upperRight'] },
};

type Corner = keyof SquareSheet['names'];

/** The six measurements, and what they prove. */
export function SquaringStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale, units, history } = state;
  const texts = history.present.measured ?? {};
  const sheet = checked?.square ?? null;
  const measuredWhen = history.present.measuredWhen ?? sheet?.punch ?? null;
  const readings = readingsOf(texts, measuredWhen);
  const { value, refused } = useReply(
    checked !== null && !stale && Object.keys(readings.measured).length > 0
      ? () => client.ask((engine) => engine.square(readings))
      : null,
    [checked, stale, JSON.stringify(readings)],
  );
  const isMeasured = Object.keys(readings.measured).length > 0;
  return (
    <>
      <p class="fact">Measure from the middle of one hole to the middle of the other, with a steel ruler.</p>
      {sheet !== null && <p class="fact">{limitWords(sheet, units)}</p>}
      {sheet !== null && isSoakedLater(sheet) && (
        <ChoiceField<PaperState>
          label="The sheet was measured"
          value={measuredWhen ?? 'dry'}
          choices={[
            { value: 'dry', label: 'dry' },
            { value: 'wet', label: 'soaked' },
          ]}
          onChange={(state) => studio.measuredWhen(state)}
        />
      )}
      {SPANS.map((span) => {
        const hint = planned(sheet, span, { units, state: measuredWhen });
        return (
          <TypedField
            key={span}
            label={WORDS[span].name}
            {...(hint === null ? {} : { hint })}
            value={texts[span] ?? ''}
            read={(text) => withUnit(text, units)}
            onChange={(text) => studio.measure(span, text)}
          />
        );
      })}
      {refused !== null && <p role="alert">{refused}</p>}
      {value !== null && isMeasured && <ReportText text={value.report} />}
    </>
  );
}

/** Punched dry and soaked before it prints, so that it may be measured in either state. */
function isSoakedLater({ soaked, punch }: SquareSheet): boolean {
  return soaked && punch === 'dry';
}

/** What must agree on the sheet, and what may differ. */
function limitWords({ targets, stepping, ...sheet }: SquareSheet, units: Units): string {
  const { stopSidesMm, stopDiagonalsMm } = squareLimits(targets, stepping);
  const [sides, diagonals] = [stopSidesMm, stopDiagonalsMm].map((mm) =>
    lengthText(Math.floor(mm * 100 + 1e-6) / 100, units),
  );
  const agree = `Opposite sides must agree within ${sides}, the two diagonals within ${diagonals}`;
  if (!isSoakedLater({ targets, stepping, ...sheet })) return `${agree}.`;
  return `${agree}, dry and soaked alike. All may be longer or shorter than planned once the paper is soaked.`;
}

/** What the plan says of a distance, in the state in which it is measured. */
function planned(
  sheet: SquareSheet | null,
  span: Span,
  { units, state }: { readonly units: Units; readonly state: PaperState | null },
): string | null {
  if (sheet === null) return null;
  const [from, to] = WORDS[span].ends;
  const holes = `${sheet.names[from]} to ${sheet.names[to]}`;
  if (state === 'wet' && isSoakedLater(sheet) && sheet.movement === null) return `${holes}, soaked: not known`;
  const { widthMm, heightMm } = state === 'dry' ? drySize(sheet.targets, sheet.movement) : sheet.targets;
  return `${holes}, planned ${lengthWords(rectangleDistances(widthMm, heightMm)[span], units)}`;
}

/** A measurement as it is kept: a bare number is in the units that the window counted in when it was typed. */
function withUnit(text: string, units: Units): string {
  const clean = text.trim();
  if (clean === '') return clean;
  parseMeasurement(clean, { defaultUnit: units });
  return /[\d.½⅓⅔¼¾⅛⅜⅝⅞]$/u.test(clean) ? `${clean} ${units}` : clean;
}

function readingsOf(texts: MeasuredTexts, measuredWhen: PaperState | null): SquareReadings {
  const measured: Partial<Record<Span, number[]>> = {};
  for (const span of SPANS) {
    const text = texts[span] ?? '';
    if (text === '') continue;
    try {
      measured[span] = parseMeasurement(text);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  return { measured, extra: [], measuredWhen };
}
