import { InputError, parseMeasurement, SPANS, type Span, type SquareSheet } from '@okuri/core';
import { ReportText } from '../controls/report-text';
import { TypedField } from '../controls/typed-field';
import type { SquareReadings } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import type { MeasuredTexts } from '../state/project';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { lengthWords, type Units } from '../words/lengths';

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
  const readings = readingsOf(texts);
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
      {SPANS.map((span) => {
        const hint = planned(checked?.square ?? null, span, units);
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

/** What the plan says of a distance. */
function planned(sheet: SquareSheet | null, span: Span, units: Units): string | null {
  if (sheet === null) return null;
  const { widthMm, heightMm } = sheet.targets;
  const [from, to] = WORDS[span].ends;
  const mm =
    span === 'top' || span === 'bottom'
      ? widthMm
      : span === 'left' || span === 'right'
        ? heightMm
        : Math.hypot(widthMm, heightMm);
  return `${sheet.names[from]} to ${sheet.names[to]}, planned ${lengthWords(mm, units)}`;
}

/** A measurement as it is kept: a bare number is in the units that the window counted in when it was typed. */
function withUnit(text: string, units: Units): string {
  const clean = text.trim();
  if (clean === '') return clean;
  parseMeasurement(clean, { defaultUnit: units });
  return /[\d.½⅓⅔¼¾⅛⅜⅝⅞]$/u.test(clean) ? `${clean} ${units}` : clean;
}

function readingsOf(texts: MeasuredTexts): SquareReadings {
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
  return { measured, extra: [], measuredWhen: null };
}
