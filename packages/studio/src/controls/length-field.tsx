import { InputError, JOB_KEYS, type JobKeyName, parseLength } from '@okuri/core';
import { useStudio } from '../state/use-studio';
import { lengthText, lengthValue } from '../words/lengths';
import { TypedField } from './typed-field';

export interface LengthFieldProps {
  /** The key of the job that is typed; its bounds are the field's. */
  readonly of: JobKeyName;
  readonly label: string;
  readonly hint?: string;
  readonly mm: number;
}

/** A length of the job: takes `250`, `25 cm`, `9 7/8in`; a bare number is in the units of the window. The job keeps it as it was written. */
export function LengthField({ of, label, hint, mm }: LengthFieldProps) {
  const { studio, state } = useStudio();
  const { units } = state;
  const { bounds } = JOB_KEYS[of].facts;
  const read = (text: string): string => {
    const written = lengthValue(text, units);
    const typed = parseLength(written);
    if (bounds !== null && !(typed >= bounds.min && typed <= bounds.max)) {
      const [least, most] = [bounds.min, bounds.max].map((one) => lengthText(one, units));
      throw new InputError(`${lengthText(typed, units)} is out of bounds: from ${least} to ${most}.`);
    }
    return written;
  };
  return (
    <TypedField
      label={label}
      {...(hint === undefined ? {} : { hint })}
      value={lengthText(mm, units)}
      read={read}
      onChange={(written) => studio.edit(of.split('.'), written)}
    />
  );
}
