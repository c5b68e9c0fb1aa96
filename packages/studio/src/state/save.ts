import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Units } from '../words/lengths';
import type { Project } from './project';
import type { StepId } from './steps';
import type { ClothLook, ViewName } from './studio';

/** What is kept in the browser from visit to visit. */
interface Kept extends DBSchema {
  /** Older versions kept the files in it too. */
  work: { key: string; value: Work | Project };
  files: { key: string; value: Files };
  settings: { key: string; value: Settings };
}

/** Files that a job names: megabytes, and seldom changed. */
type Files = Pick<Project, 'motif' | 'fonts'>;

type Work = Omit<Project, keyof Files>;

/** How the window was set up on this machine. */
export interface Settings {
  readonly units: Units;
  readonly screenPxPerMm: number | null;
  /** Where one was in the work; left out by older versions. */
  readonly step?: StepId;
  readonly view?: ViewName;
  readonly look?: ClothLook;
  readonly asksDark?: boolean;
}

const DATABASE = 'okuri-studio';
const VERSION = 2;
/** The one piece of work at hand. */
const AT_HAND = 'at-hand';

let opened: Promise<IDBPDatabase<Kept> | null> | null = null;

/** The browser's store; null where it gives none (some private windows). */
function store(): Promise<IDBPDatabase<Kept> | null> {
  opened ??= openDB<Kept>(DATABASE, VERSION, {
    upgrade(database, before) {
      if (before < 1) {
        database.createObjectStore('work');
        database.createObjectStore('settings');
      }
      if (before < 2) database.createObjectStore('files');
    },
  }).catch(() => null);
  return opened;
}

/** The work that was at hand when the window was last open; null where there is none. */
export async function savedProject(): Promise<Project | null> {
  const database = await store();
  const work = await database?.get('work', AT_HAND);
  if (!database || work === undefined) return null;
  if ('motif' in work) return work;
  const kept = await database.get('files', AT_HAND);
  if (kept === undefined) return null;
  files = kept;
  return { ...work, ...kept };
}

/** Those that are in the store. */
let files: Files | null = null;

/** Keeps the work at hand. False where the browser keeps nothing. */
export async function saveProject(project: Project): Promise<boolean> {
  const database = await store();
  if (database === null) return false;
  const { motif, fonts, ...work } = project;
  const change = database.transaction(['work', 'files'], 'readwrite');
  const puts: Promise<unknown>[] = [change.objectStore('work').put(work, AT_HAND), change.done];
  const isNew = files === null || files.motif !== motif || files.fonts !== fonts;
  if (isNew) puts.push(change.objectStore('files').put({ motif, fonts }, AT_HAND));
  await Promise.all(puts);
  files = { motif, fonts };
  return true;
}

export async function savedSettings(): Promise<Settings | null> {
  return (await (await store())?.get('settings', AT_HAND)) ?? null;
}

export async function saveSettings(settings: Settings): Promise<void> {
  await (await store())?.put('settings', settings, AT_HAND);
}
