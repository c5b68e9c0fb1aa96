import { useId } from 'preact/hooks';

export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string;
  readonly hint?: string;
}

export interface ChoiceFieldProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly Choice<T>[];
  readonly onChange: (value: T) => void;
}

/** One of a few, all of them to be seen. */
export function ChoiceField<T extends string>({ label, value, choices, onChange }: ChoiceFieldProps<T>) {
  const name = useId();
  return (
    <fieldset class="field choice">
      <legend>{label}</legend>
      <div class="choice-row">
        {choices.map((choice) => (
          <label key={choice.value} class="choice-one">
            <input
              type="radio"
              name={name}
              value={choice.value}
              checked={choice.value === value}
              onChange={() => onChange(choice.value)}
            />
            <span>
              {choice.label}
              {choice.hint !== undefined && <small>{choice.hint}</small>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
