import { z } from 'zod';
import { fractionText, parseFraction } from '../repeat/fraction.js';
import type { Repeat } from '../repeat/types.js';
import { choice, type Field, own, TEXT_MAX } from './field.js';
import type { FieldReader } from './field-reader.js';
import { at, type JobKey } from './job-key.js';
import type { Job } from './types.js';

const KINDS = ['straight', 'half-drop', 'drop', 'brick'] as const;
export type RepeatName = (typeof KINDS)[number];

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF = { p: 1, q: 2 } as const;

/** What a person calls the repeat: a drop of 1/2 is a half-drop. */
export function repeatName({ repeat: { kind, step } }: Pick<Job, 'repeat'>): RepeatName {
  return kind === 'drop' && step.p === HALF.p && step.q === HALF.q ? 'half-drop' : kind;
}

/** The repeat by its name, with the step that this name has where none is written. */
export function repeatKey(about: string): JobKey<RepeatName> {
  const field = choice(KINDS, 'straight', about);
  return {
    ...at('repeat', { ...field, read: (name) => usualRepeat(name), write: (_, job) => repeatName(job) }),
    heldIn: repeatName,
  };
}

function usualRepeat(name: RepeatName): Repeat {
  if (name === 'straight') return STRAIGHT;
  return { kind: name === 'brick' ? 'brick' : 'drop', step: HALF };
}

/** The step has to suit the repeat; a fraction outside 0 to 1 is brought into range, which is said. */
export function repeatStep(about: string): Field<string | undefined, Repeat> {
  return own(z.string().max(TEXT_MAX).optional(), about, {
    read: (written, path, reader) => repeatOf(reader.written('repeat') as RepeatName, written, path, reader),
    write: ({ step }) => fractionText(step),
  });
}

function repeatOf(name: RepeatName, written: string | undefined, path: string, reader: FieldReader): Repeat {
  if (written === undefined) return usualRepeat(name);
  const { fraction: step, changedFrom } = reader.parsed(path, written, parseFraction);
  if (changedFrom !== null)
    reader.remark(`The step ${changedFrom} is the same as ${fractionText(step)}, and is read as that.`);
  if (name === 'straight') {
    if (step.p === 0) return STRAIGHT;
    return reader.at(path, `is ${written}, but the repeat is straight: say drop or brick for a step, or leave it out.`);
  }
  if (name === 'half-drop') {
    if (step.p === HALF.p && step.q === HALF.q) return { kind: 'drop', step };
    return reader.at(path, `is ${written}, but a half-drop steps by 1/2: say drop for another step.`);
  }
  if (step.p === 0) {
    reader.remark(`A ${name} by ${written} is a straight repeat, and is read as one.`);
    return STRAIGHT;
  }
  return { kind: name, step };
}
