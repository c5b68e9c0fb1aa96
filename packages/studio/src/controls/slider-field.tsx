import { useId } from 'preact/hooks';

export interface SliderFieldProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** What the two ends mean. */
  readonly ends: readonly [string, string];
  /** The value in words. */
  readonly words: string;
  readonly onChange: (value: number) => void;
}

/** More or less of something; takes effect when it is let go. */
export function SliderField({ label, value, least, most, step, ends, words, onChange }: SliderFieldProps) {
  const id = useId();
  return (
    <div class="field slider">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="range"
        min={least}
        max={most}
        step={step}
        value={value}
        aria-valuetext={words}
        onChange={(event) => onChange(Number(event.currentTarget.value))}
      />
      <p class="slider-ends" aria-hidden="true">
        <span>{ends[0]}</span>
        <span>{ends[1]}</span>
      </p>
      <p class="field-hint">{words}</p>
    </div>
  );
}
