import { useId } from 'preact/hooks';

export interface TickFieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly value: boolean;
  readonly onChange: (value: boolean) => void;
  readonly disabled?: boolean;
}

/** Yes or no. */
export function TickField({ label, hint, value, onChange, disabled = false }: TickFieldProps) {
  const id = useId();
  return (
    <div class="field tick">
      <input
        id={id}
        type="checkbox"
        checked={value}
        disabled={disabled}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  );
}
