import { parseLength } from '@okuri/core';
import { useStudio } from '../state/use-studio';
import { lengthText, lengthValue } from '../words/lengths';
import { TypedField } from './typed-field';

export interface LengthFieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly mm: number;
  /** The length as the job file takes it (such as `250mm` or `9 7/8in`), and in mm. */
  readonly onChange: (written: string, mm: number) => void;
  readonly disabled?: boolean;
}

/** A length: takes `250`, `25 cm`, `9 7/8in`; a bare number is in the units of the window. */
export function LengthField({ label, hint, mm, onChange, disabled = false }: LengthFieldProps) {
  const { units } = useStudio().state;
  return (
    <TypedField
      label={label}
      {...(hint === undefined ? {} : { hint })}
      value={lengthText(mm, units)}
      read={(text) => {
        const written = lengthValue(text, units);
        return { written, mm: parseLength(written) };
      }}
      onChange={(length) => onChange(length.written, length.mm)}
      disabled={disabled}
    />
  );
}
