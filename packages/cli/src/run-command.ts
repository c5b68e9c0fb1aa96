import { InputError, StageMemory, suggestTies } from '@okuri/core';
import { Command, CommanderError } from 'commander';
import { addCheck } from './commands/check.js';
import { addDone } from './commands/done.js';
import { addMakers } from './commands/makers.js';
import { addNew } from './commands/new.js';
import { addPlan } from './commands/plan.js';
import { addProof } from './commands/proof.js';
import type { Run } from './commands/run.js';
import { addSquare } from './commands/square.js';
import { addStudio } from './commands/studio.js';
import { addTies } from './commands/ties.js';
import { addTrace } from './commands/trace.js';
import { STAGES_OPTION, spreadLists } from './options.js';
import { progressLine, type Streams } from './progress.js';

/** Exit codes: 0 done; 1 done, and something must be mended before cutting; 2 the input can't be used. */
export const EXIT = { done: 0, mend: 1, unusable: 2 } as const;

/**
 * Runs the command with its arguments (without the program's own name) and gives the exit code. With code 2 nothing is written
 * to standard output, and one sentence to standard error.
 */
export async function runCommand(args: readonly string[], streams: Streams): Promise<number> {
  const progress = progressLine(streams);
  const memory = new StageMemory({ keeps: false });
  let code: number = EXIT.done;
  const program = new Command('okuri')
    .description('From a motif to the sheets and the cut guide of a hand-cut stencil for cloth.')
    .version('0.3.0', '--version', 'say the version')
    .helpCommand(false)
    .showSuggestionAfterError(true)
    .exitOverride()
    .configureOutput({ writeOut: streams.out, writeErr: () => {}, outputError: () => {} });
  const run: Run = {
    streams,
    progress,
    memory,
    finish: (mend) => {
      code = mend ? EXIT.mend : EXIT.done;
    },
  };
  addTrace(program, run);
  addNew(program, run);
  addCheck(program, run);
  addMakers(program, run);
  addTies(program, run, suggestTies);
  addDone(program, run);
  addSquare(program, run);
  addPlan(program, run);
  addProof(program, run);
  addStudio(program, run);
  try {
    if (args.length === 0)
      throw new InputError(
        'Name what to do: okuri trace, new, check, cloth, sheets, guide, stencil, make, ties, done, square, plan, proof or studio; okuri --help says more.',
      );
    await program.parseAsync(spreadLists(args), { from: 'user' });
    progress.clear();
    if (args.includes(STAGES_OPTION)) streams.err(`${JSON.stringify(memory.takeLog())}\n`);
    return code;
  } catch (error) {
    progress.clear();
    if (error instanceof CommanderError && error.exitCode === 0) return EXIT.done;
    streams.err(`okuri: ${sentenceOf(error)}\n`);
    return EXIT.unusable;
  }
}

function sentenceOf(error: unknown): string {
  if (error instanceof CommanderError) {
    const [what, guess] = error.message.replace(/^error: /, '').split(/\s*\(Did you mean /);
    const hint = guess === undefined ? 'okuri --help says more' : `did you mean ${guess.replace(/\?\)$/, '?')}`;
    return oneLine(`${what.replaceAll('. ', ', ').replace(/\.$/, '')}: ${hint}`);
  }
  const message = error instanceof Error ? error.message : String(error);
  if (error instanceof InputError) return oneLine(message);
  // The engine's own limits (the depth of its stack, the longest string or list) are reached by input that nobody draws.
  if (error instanceof RangeError)
    return oneLine(`the drawing is too large or too deeply nested to be worked on (${message}): simplify it.`);
  return oneLine(
    `a fault of the program, not of your input (${message}): please report it with the command and the drawing.`,
  );
}

function oneLine(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return /[.?!]$/.test(line) ? line : `${line}.`;
}
