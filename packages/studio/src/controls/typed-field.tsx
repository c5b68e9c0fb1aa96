import { InputError, inVoice } from '@okuri/core';
import { useEffect, useState } from 'preact/hooks';
import { Field } from './field';

export interface TypedFieldProps<T> {
  readonly label: string;
  readonly hint?: string;
  /** The value as it stands, in the person's units. */
  readonly value: string;
  /** Reads what was typed; throws an `InputError` of one sentence where it can't be. */
  readonly read: (text: string) => T;
  readonly onChange: (value: T, text: string) => void;
  readonly inputMode?: 'text' | 'decimal' | 'numeric';
  readonly disabled?: boolean;
}

/** A line to type in. It takes effect on leaving it or on Enter; what can't be read stays as typed, with a sentence that says why. */
export function TypedField<T>(props: TypedFieldProps<T>) {
  const { label, hint, value, read, onChange, inputMode = 'text', disabled = false } = props;
  const [text, setText] = useState(value);
  const [fault, setFault] = useState<string | null>(null);
  // A change from elsewhere (undo, another control) shows at once.
  useEffect(() => {
    setText(value);
    setFault(null);
  }, [value]);
  const take = (): void => {
    if (text === value) {
      setFault(null);
      return;
    }
    try {
      const taken = read(text);
      setFault(null);
      onChange(taken, text);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setFault(inVoice(error, 'window'));
    }
  };
  return (
    <Field label={label} hint={hint} fault={fault}>
      {({ id, describedBy }) => (
        <input
          id={id}
          type="text"
          value={text}
          inputMode={inputMode}
          autocomplete="off"
          spellcheck={false}
          disabled={disabled}
          data-typed={text !== value}
          aria-describedby={describedBy}
          aria-invalid={fault !== null}
          onInput={(event) => setText(event.currentTarget.value)}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take();
            if (event.key === 'Escape') {
              setText(value);
              setFault(null);
            }
          }}
        />
      )}
    </Field>
  );
}
