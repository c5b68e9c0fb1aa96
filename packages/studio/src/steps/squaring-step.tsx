import { InputError, parseMeasurement, SPANS, type Span } from '@okuri/core';
import { TypedField } from '../controls/typed-field';
import type { SquareReadings } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';

const WORDS: Readonly<Record<Span, string>> = {
  top: 'Top, upper left to upper right hole',
  right: 'Right, upper right to lower right hole',
  bottom: 'Bottom, lower left to lower right hole',
  left: 'Left, upper left to lower left hole',
  falling: 'Diagonal, upper left to lower right hole',
  rising: 'Diagonal, lower left to upper right hole',
};

/** The six measurements, and what they prove. */
export function SquaringStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale, units, measured: texts } = state;
  const readings = readingsOf(texts, units);
  const { value, refused } = useReply(
    checked !== null && !stale && Object.keys(readings.measured).length > 0
      ? () => client.ask((engine) => engine.square(readings))
      : null,
    [checked, stale, JSON.stringify(readings)],
  );
  return (
    <>
      {SPANS.map((span) => (
        <TypedField
          key={span}
          label={WORDS[span]}
          value={texts[span] ?? ''}
          inputMode="decimal"
          read={(text) => {
            if (text.trim() !== '') parseMeasurement(text, { defaultUnit: units });
            return text;
          }}
          onChange={(text) => studio.set({ measured: { ...texts, [span]: text } })}
        />
      ))}
      {refused !== null && <p role="alert">{refused}</p>}
      {value !== null && (
        <pre class="report" role="status">
          {value.report}
        </pre>
      )}
    </>
  );
}

function readingsOf(texts: Readonly<Partial<Record<Span, string>>>, units: 'mm' | 'in'): SquareReadings {
  const measured: Partial<Record<Span, number[]>> = {};
  for (const span of SPANS) {
    const text = texts[span]?.trim() ?? '';
    if (text === '') continue;
    try {
      measured[span] = parseMeasurement(text, { defaultUnit: units });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  return { measured, extra: [], measuredWhen: null };
}
