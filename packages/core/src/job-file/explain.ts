import type { z } from 'zod';
import { nearNames } from '../units/near-names.js';

/** A path into the job file: keys and places in lists. */
export type JobPath = readonly PropertyKey[];

/** Names a place in the job file for a person: `"pages.paper"`, `"fonts[1]"`. */
export function pathName(path: JobPath): string {
  let name = '';
  for (const step of path) name += typeof step === 'number' ? `[${step}]` : `${name ? '.' : ''}${String(step)}`;
  return `"${name}"`;
}

/** What a job file may hold at a place. */
export interface WhatMayStand {
  readonly knownKeys: (path: JobPath) => readonly string[];
  /** In words, where a value may be of several kinds. */
  readonly expects: (path: JobPath) => string | null;
}

/**
 * One clause about what is wrong with a job file: what, where, and what may stand there instead. `nameOf` may give a place
 * another name than its path; `input` is the parsed file, to show what was found.
 */
export function explainIssue(
  issue: z.core.$ZodIssue,
  input: unknown,
  nameOf: (path: JobPath) => string,
  { knownKeys, expects }: WhatMayStand,
): string {
  const where = issue.path.length > 0 ? nameOf(issue.path) : 'the file';
  const found = shown(valueAt(input, issue.path));
  switch (issue.code) {
    case 'unrecognized_keys': {
      const key = issue.keys[0];
      const [near] = nearNames(key, knownKeys(issue.path), 1);
      const hint = near ? `did you mean "${near}"` : `it may hold ${knownKeys(issue.path).join(', ')}`;
      return `${nameOf([...issue.path, key])} is not a key of a job: ${hint}${near ? '?' : ''}`;
    }
    case 'invalid_value':
      if (issue.path.length === 1 && issue.path[0] === 'okuri') {
        const head = found === undefined ? '"okuri" is missing' : `"okuri" is ${found}`;
        return `${head}: a job file begins with "okuri": ${issue.values.map(String).join(' or ')}, the version of its form`;
      }
      return `${where} must be one of ${issue.values.map(String).join(', ')}, not ${found ?? 'missing'}`;
    case 'invalid_type':
      return found === undefined
        ? `${where} is missing: it must be ${kindOf(issue)}`
        : `${where} must be ${kindOf(issue)}, not ${found}`;
    case 'invalid_union':
      return `${where} must be ${expects(issue.path) ?? 'of another kind'}, not ${found}`;
    case 'invalid_key':
      return `${where} can't be read: its keys are colours such as "#000000"`;
    case 'too_big':
      return `${where} is too long: at most ${issue.maximum} are read`;
    case 'too_small':
      return `${where} is too short: at least ${issue.minimum} is needed`;
    default:
      return `${where} can't be read: ${issue.message}`;
  }
}

const KINDS: Record<string, string> = {
  string: 'text in quotes (a length with its unit: "250mm")',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of keys in braces',
  record: 'a group with a key for each ink',
  tuple: 'a list of number, x, y and area',
};

/** Keys whose list is another than that of a number's. */
const LISTS: Record<string, string> = {
  from: 'a list of x and y, in mm on the unit',
  to: 'a list of x and y, in mm on the unit',
  place: 'a list of x and y, in mm on the field',
};

function kindOf({ expected, path }: { expected: string; path: JobPath }): string {
  if (expected === 'tuple') return LISTS[String(path[path.length - 1])] ?? KINDS.tuple;
  return KINDS[expected] ?? expected;
}

/** Longest stretch of a value that a sentence shows. */
const SHOWN_MAX = 60;

/** A value in a few words; lists and groups are not shown, as they may be of any size and depth. */
function shown(value: unknown): string | undefined {
  if (value === undefined) return undefined;
  if (typeof value === 'object' && value !== null) return Array.isArray(value) ? 'a list' : 'a group of keys';
  // A number too large to be held would be shown as null.
  const text = typeof value === 'number' ? String(value) : JSON.stringify(value);
  return text.length > SHOWN_MAX ? `${text.slice(0, SHOWN_MAX)}…` : text;
}

function valueAt(input: unknown, path: JobPath): unknown {
  let value = input;
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}
