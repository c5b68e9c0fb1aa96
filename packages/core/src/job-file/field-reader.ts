import type { Ink } from '../motif/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { parseLength } from '../units/length.js';
import type { JobPath } from './explain.js';

/** What a reader of a job file knows beside the value that it reads. */
export interface ReadingContext {
  readonly nameOf: (path: JobPath) => string;
  /** `elsewhere` is the whole sentence where no file and no key of it is spoken of. */
  readonly fail: (sentence: string, elsewhere?: string) => never;
  /** What is written under another key, once every default is filled in. */
  readonly written: (name: string) => unknown;
  /** The day for a job that gives none, `YYYY-MM-DD`. */
  readonly today: string | undefined;
}

/** Reads single values, naming each in its error. */
export class FieldReader {
  /** What has to be said about how values were read. */
  readonly remarks: string[] = [];

  constructor(private readonly context: ReadingContext) {}

  get today(): string | undefined {
    return this.context.today;
  }

  written(name: string): unknown {
    return this.context.written(name);
  }

  remark(sentence: string): void {
    this.remarks.push(sentence);
  }

  at(path: string, sentence: string, elsewhere?: string): never {
    return this.context.fail(`${this.context.nameOf(stepsOf(path))} ${sentence}`, elsewhere);
  }

  number(path: string, value: number, { min, max }: { min: number; max: number }, unit = ''): number {
    if (value >= min && value <= max) return value;
    return this.at(path, `is ${Number(value.toFixed(4))}${unit}: it must be from ${min} to ${max}${unit}.`);
  }

  /** What `read` makes of the text; its refusal, with the place named before it. */
  parsed<T>(path: string, text: string, read: (text: string) => T): T {
    try {
      return read(text);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const { message } = error;
      return this.context.fail(`${this.context.nameOf(stepsOf(path))}: ${message[0].toLowerCase()}${message.slice(1)}`);
    }
  }

  length(path: string, text: string, bounds: { min: number; max: number }): number {
    const mm = this.parsed(path, text, parseLength);
    if (mm >= bounds.min && mm <= bounds.max) return mm;
    return this.at(path, `is ${formatMm(mm)}: it must be from ${formatMm(bounds.min)} to ${formatMm(bounds.max)}.`);
  }

  colour(path: string, text: string): Ink {
    const hex = text.trim().toLowerCase();
    if (/^#[0-9a-f]{6}$/.test(hex)) return hex;
    if (/^#[0-9a-f]{3}$/.test(hex)) return `#${[...hex.slice(1)].map((digit) => digit + digit).join('')}`;
    return this.at(path, `is ${JSON.stringify(text)}: write a colour as "#rrggbb", such as "#000000".`);
  }
}

/** A path as it is written here, `ties.#000000.0.id`, step by step; whole numbers are places in lists. */
function stepsOf(path: string): JobPath {
  return path.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}
