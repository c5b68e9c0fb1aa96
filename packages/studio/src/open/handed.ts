import { InputError, inVoice } from '@okuri/core';
import { type Opened, openFiles } from '../state/open-files';
import type { ArtworkFile, Project } from '../state/project';
import type { Studio } from '../state/studio';
import { takeOpened } from './take-opened';

/** The mark that `okuri studio` puts into the page it serves. Its content is where the list of handed files stands; empty where there are none. */
const MARK = 'meta[name="okuri-served"]';

const HANDED_KEY = 'okuri-handed';

interface HandedList {
  readonly id: string;
  readonly files: readonly { readonly name: string; readonly at: string }[];
}

/** Whether the page comes from `okuri studio`: its files lie on this machine already. */
export function isServedByCommand(): boolean {
  return document.querySelector(MARK) !== null;
}

/** The job or the drawing that `okuri studio` was started with. Null where there is none, and after it was opened: a reload goes on with the work at hand. */
export async function handedFiles(): Promise<readonly ArtworkFile[] | null> {
  const at = document.querySelector<HTMLMetaElement>(MARK)?.content;
  if (!at) return null;
  const { id, files } = (await (await fetched(at)).json()) as HandedList;
  if (rememberedId() === id) return null;
  const read = await Promise.all(
    files.map(async ({ name, at }) => ({ name, bytes: new Uint8Array(await (await fetched(at)).arrayBuffer()) })),
  );
  rememberId(id);
  return read;
}

/**
 * Opens what was handed over. Where other work of the person's own is at hand, nothing is changed yet and what would be opened comes back, to be
 * asked about: `kept` is that work, null where there is none.
 */
export function openHanded(studio: Studio, files: readonly ArtworkFile[], kept: Project | null): Opened | null {
  try {
    const opened = openFiles(files, studio.project);
    if (kept !== null && isSame(opened.project, kept)) return null;
    if (kept !== null) return opened;
    takeOpened(studio, opened);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    studio.set({ said: inVoice(error, 'window') });
  }
  return null;
}

function isSame(a: Project, b: Project): boolean {
  return a.jobText === b.jobText && sameBytes(a.motif.bytes, b.motif.bytes);
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, k) => byte === b[k]);
}

async function fetched(address: string): Promise<Response> {
  const reply = await fetch(address, { cache: 'no-store' });
  if (!reply.ok) throw new Error(`${address} is not to be had: ${reply.status}`);
  return reply;
}

function rememberedId(): string | null {
  try {
    return localStorage.getItem(HANDED_KEY);
  } catch {
    return null;
  }
}

function rememberId(id: string): void {
  try {
    localStorage.setItem(HANDED_KEY, id);
  } catch {
    // A browser that keeps nothing has no work at hand either: after a reload the job is opened once more.
  }
}
