import { Field } from './field';

export interface ColourFieldProps {
  readonly label: string;
  /** `#rrggbb`. */
  readonly value: string;
  readonly onChange: (value: string) => void;
}

/** A colour, as the browser's own chooser gives it. */
export function ColourField({ label, value, onChange }: ColourFieldProps) {
  return (
    <Field label={label}>
      {({ id }) => (
        <input id={id} type="color" value={value} onChange={(event) => onChange(event.currentTarget.value)} />
      )}
    </Field>
  );
}
