import { z } from 'zod';
import { MOVEMENT_MAX_PERCENT, measuredMovement } from '../register/movement.js';
import type { PaperMovement } from '../register/types.js';
import { PUNCH_WITHIN_MM, USUAL_PUNCHES_MM } from '../stencil/tools.js';
import { InputError } from '../units/input-error.js';
import { findPaper } from '../units/paper-sizes.js';
import { type Bounds, type Field, lengthShape, own, plainText, text, typedNumber } from './field.js';
import type { FieldReader } from './field-reader.js';
import { lengthText } from './length-text.js';
import { mirroredFor } from './practice.js';
import type { Job } from './types.js';

/** Most files or inks of a list: guards. */
const LIST_MAX = 64;
/** Most punches of a set: a guard. */
const PUNCHES_MAX = 100;
/** A hand punch: larger holes are cut. */
const PUNCH_MM: Bounds = { min: 0.2, max: 50 };
/** A strip that tells how paper moves: shorter ones tell nothing. */
const STRIP_MM: Bounds = { min: 20, max: 20_000 };
const MOVED_PERCENT: Bounds = { min: -MOVEMENT_MAX_PERCENT, max: MOVEMENT_MAX_PERCENT };

/** Stands for a date that nobody gave: engines without a clock still make the same file twice. */
const NO_DATE = '1970-01-01';

/** The title; left out, it is the name of the motif's file. */
export function titleOr(about: string): Field<string | undefined, string> {
  const { shape, ...field } = text(about);
  return {
    ...field,
    shape: shape.optional(),
    late: true,
    read: (written, _path, _reader, job) => written ?? baseName(job.motif),
  };
}

function baseName(path: string): string {
  const name = path.split(/[\\/]/).pop() ?? path;
  return name.replace(/\.[^.]+$/, '') || path;
}

export function motifFile(about: string): Field<string, string> {
  return {
    ...text(about),
    read: (written, path, reader) =>
      written.trim() === '' ? reader.at(path, 'is empty: name the drawing, such as "leaves.svg".') : written,
  };
}

export function fontFiles(): Field<string[], readonly string[]> {
  const shape = z.array(plainText('A font file, relative to this file.')).max(LIST_MAX).default([]);
  return own(shape, 'Fonts for the text in the drawing.', { read: (files) => files, write: (files) => [...files] });
}

/** A day of the calendar; left out, it is the one that the reader was given. */
export function day(about: string): Field<string | undefined, string> {
  const { shape, ...field } = text(about);
  return {
    ...field,
    shape: shape.optional(),
    read: (written, path, reader) => {
      const date = written ?? reader.today ?? NO_DATE;
      const [year, month, dayOfMonth] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)?.slice(1).map(Number) ?? [];
      const real = new Date(Date.UTC(year, month - 1, dayOfMonth));
      if (year >= 1900 && real.getUTCMonth() === month - 1 && real.getUTCDate() === dayOfMonth) return date;
      return reader.at(path, `is ${JSON.stringify(date)}: write a day of the calendar as YYYY-MM-DD.`);
    },
  };
}

export function printerPaper(usual: string, about: string): Field<string, string> {
  return {
    ...text(about, usual),
    // The paper stays as it was written, once it is sure that it is one.
    read: (written, path, reader) =>
      reader.parsed(path, written, (name) => {
        findPaper(name);
        return name;
      }),
  };
}

/** Inks to cut; "all" is null. */
export function inks(about: string): Field<'all' | string[], Job['cut']> {
  const list = z.array(plainText('An ink of the drawing. "#rrggbb" or "#rgb".')).min(1).max(LIST_MAX);
  return own(z.union([z.literal('all'), list]).default('all'), about, {
    expects: '"all" or a list of colours such as ["#000000"]',
    read: (written, path, reader) =>
      written === 'all' ? null : [...new Set(written.map((one) => reader.colour(path, one)))],
    write: (value) => (value === null ? 'all' : [...value]),
  });
}

/** Punches from the smallest on, each once. */
export function punchSizes(): Field<string[], readonly number[]> {
  const about = `The punches that you own. A round hole is given to the nearest of them if it is drawn within ${PUNCH_WITHIN_MM} mm of its size, else to the knife; an empty list gives all to the knife.`;
  const size = plainText('Diameter of a punch: a length with its unit, such as "2.5mm".');
  const shape = z
    .array(size)
    .max(PUNCHES_MAX)
    .default(USUAL_PUNCHES_MM.map((mm) => `${mm}mm`));
  return own(shape, about, {
    read: (written, path, reader) => {
      const sizes = written.map((one, k) => reader.length(`${path}.${k}`, one, PUNCH_MM));
      return [...new Set(sizes)].sort((a, b) => a - b);
    },
    write: (sizes) => sizes.map(lengthText),
    // Sizes with commas between them; none for no punch at all.
    typed: (line) => (/^\s*none\s*$/i.test(line) ? [] : line.split(',').map((part) => part.trim())),
  });
}

type WrittenShare = number | { dry: string; wet: string };
type WrittenMovement = 'unknown' | { along: WrittenShare; across: WrittenShare };

function movementShape(about: string) {
  const strip = z.strictObject({
    dry: lengthShape('A distance on a strip of the paper, dry.'),
    wet: lengthShape('The same distance when the strip is soaked.'),
  });
  return z
    .union([z.number(), strip])
    .describe(`${about} Per cent (below zero: shrinks), or measured: {"dry": "600mm", "wet": "603mm"}.`);
}

/** How far the paper moves along and across its grain, typed in or measured; null where it is not known. */
export function paperMovement(about: string): Field<WrittenMovement, PaperMovement | null> {
  const known = z.strictObject({
    along: movementShape('Along the grain.'),
    across: movementShape('Across the grain.'),
  });
  return own(z.union([z.literal('unknown'), known]).default('unknown'), about, {
    expects:
      '"unknown", or a group of "along" and "across", each a number of per cent or measured, such as {"dry": "600mm", "wet": "603mm"}',
    read: (written, path, reader) =>
      written === 'unknown'
        ? null
        : {
            alongPercent: movedPercent(written.along, `${path}.along`, reader),
            acrossPercent: movedPercent(written.across, `${path}.across`, reader),
          },
    write: (value) => (value === null ? 'unknown' : { along: value.alongPercent, across: value.acrossPercent }),
    // Two numbers of per cent.
    typed: (line) => {
      const [along, across, ...rest] = line.split(',').map(typedNumber);
      return typeof along === 'number' && typeof across === 'number' && rest.length === 0 ? { along, across } : line;
    },
  });
}

function movedPercent(written: WrittenShare, path: string, reader: FieldReader): number {
  if (typeof written === 'number') return reader.number(path, written, MOVED_PERCENT, ' %');
  const [dryMm, wetMm] = (['dry', 'wet'] as const).map((state) =>
    reader.length(`${path}.${state}`, written[state], STRIP_MM),
  );
  try {
    return measuredMovement({ dryMm, wetMm }).percent;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return reader.at(path, `can't be right: ${error.message[0].toLowerCase()}${error.message.slice(1)}`);
  }
}

/** Whether pages are mirrored; "auto" goes by the transfer. */
export function mirrored(about: string): Field<'auto' | boolean, boolean> {
  const field = own<'auto' | boolean, boolean>(z.union([z.literal('auto'), z.boolean()]).default('auto'), about, {
    expects: '"auto", true or false',
    late: true,
    read: (written, _path, _reader, job) => (written === 'auto' ? mirroredFor(job.practice.transfer) : written),
    write: (value, job) => (value === mirroredFor(job.practice.transfer) ? 'auto' : value),
  });
  return { ...field, facts: { ...field.facts, kind: 'tick' } };
}
