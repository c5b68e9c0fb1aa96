import { randomUUID } from 'node:crypto';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { InputError } from '@okuri/core';
import { decodeScan, isScan } from '@okuri/reader/scan';
import type { Command } from 'commander';
import { loadFor, readMotif } from '../engine.js';
import type { Loaded } from '../load.js';
import { openBrowser } from '../open-browser.js';
import { shownPath } from '../read-file.js';
import { type Handed, studioAnswers } from '../studio-files.js';
import { type Served, serveAnswers } from '../studio-server.js';
import type { Run } from './run.js';

/** Where the built studio stands, seen from the sources and from what is compiled of them alike. */
const STUDIO = fileURLToPath(new URL('../../../studio/dist', import.meta.url));

/**
 * Where the studio is served unless another port is named: always the same, because a browser keeps work by address and port. It lies below
 * those that systems hand out by themselves (32768 and up on Linux, 49152 and up by RFC 6335, 6).
 */
const STUDIO_PORT = 24_764;

const PORT_MAX = 65_535;

/** `okuri studio [JOB|MOTIF] [--port N] [--no-open]`. */
export function addStudio(program: Command, run: Run): void {
  const command = program
    .command('studio')
    .summary('the whole job in the browser, on this machine alone')
    .description(
      'Opens the studio in the browser: the whole job in one window. It is served to this machine alone and runs until Ctrl-C; nothing leaves the machine.',
    )
    .argument('[JOB|MOTIF]', 'a job file or a drawing to open')
    .option('--port <n>', `the port on this machine, 0 for any that is free (${STUDIO_PORT})`)
    .option('--no-open', 'do not open the browser');
  command.action(async (named: string | undefined) => {
    const { port, open } = command.opts<{ port?: string; open: boolean }>();
    const wanted = port === undefined ? null : readPort(port);
    const handed = named === undefined ? null : await handedOf(loadFor(command, named), run);
    const { served, remark } = await serve(handed, wanted);
    run.progress.clear();
    run.streams.out(`${remark}The studio is at ${served.address} until Ctrl-C ends it.\n`);
    if (open) openBrowser(served.address);
    await untilEnded();
    await served.close();
    run.finish(false);
  });
}

async function serve(handed: Handed | null, wanted: number | null): Promise<{ served: Served; remark: string }> {
  const answers = studioAnswers(STUDIO, handed);
  if (answers === null) {
    throw new InputError('The studio is not built yet: run npm start in the checkout, which builds and opens it.');
  }
  try {
    return { served: await serveAnswers(answers, wanted ?? STUDIO_PORT), remark: '' };
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== 'EADDRINUSE' && code !== 'EACCES') throw error;
    if (wanted !== null) {
      const why = code === 'EACCES' ? 'may not be used by you' : 'is taken by another program';
      throw new InputError(`--port ${wanted} ${why}: name another, or leave --port out.`);
    }
    return {
      served: await serveAnswers(answers, 0),
      remark: `Port ${STUDIO_PORT} is taken, perhaps by another studio: this one keeps its work apart from that one's.\n`,
    };
  }
}

function readPort(text: string): number {
  const port = /^\d{1,5}$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (port <= PORT_MAX) return port;
  throw new InputError(`--port is ${JSON.stringify(text)}: give a number from 1024 to ${PORT_MAX}, or 0 for any.`);
}

/** The files for the page to open. What can't be read is refused here, in the sentences of every other command. */
async function handedOf(loaded: Loaded, run: Run): Promise<Handed> {
  const { motifPath, motifBytes, named, jobText } = loaded;
  const scan = isScan(motifBytes);
  // The page traces a scan itself: here only that it is one is made sure of.
  if (scan) await decodeScan(motifBytes, { name: shownPath(motifPath) });
  else await readMotif(loaded, run.progress);
  const files = [
    { name: ending(basename(motifPath), scan ? SCANS : /\.svg$/i, '.svg'), bytes: motifBytes },
    ...loaded.fonts.map((bytes, k) => ({ name: basename(loaded.fontPaths[k]), bytes })),
  ];
  if (jobText !== null) {
    files.unshift({
      name: ending(basename(named), /\.json$/i, '.okuri.json'),
      bytes: new TextEncoder().encode(jobText),
    });
  }
  return { id: randomUUID(), files };
}

const SCANS = /\.(?:png|jpe?g|webp|tiff?)$/i;

/** The page goes by the endings of names, the command by what is in a file: what it has recognised gets its ending. */
function ending(name: string, usual: RegExp, add: string): string {
  return usual.test(name) ? name : `${name}${add}`;
}

/** Ctrl-C, or the end of the session. */
function untilEnded(): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      process.off('SIGINT', end).off('SIGTERM', end);
      resolve();
    };
    process.on('SIGINT', end).on('SIGTERM', end);
  });
}
