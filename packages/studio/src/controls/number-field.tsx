import { InputError } from '@okuri/core';
import { TypedField } from './typed-field';

export interface NumberFieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
  readonly onChange: (value: number) => void;
}

/** A plain number within bounds. */
export function NumberField({ label, hint, value, least, most, whole = false, onChange }: NumberFieldProps) {
  const read = (text: string): number => {
    const number = text.trim() === '' ? Number.NaN : Number(text);
    if (Number.isNaN(number) || (whole && !Number.isInteger(number))) {
      throw new InputError(`"${text}" is no ${whole ? 'whole ' : ''}number.`);
    }
    if (number < least || number > most) throw new InputError(`${text} is out of bounds: from ${least} to ${most}.`);
    return number;
  };
  return (
    <TypedField
      label={label}
      {...(hint === undefined ? {} : { hint })}
      value={String(value)}
      inputMode={whole ? 'numeric' : 'decimal'}
      read={read}
      onChange={onChange}
    />
  );
}
