import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Units } from '../words/lengths';
import type { Project } from './project';
import type { StepId } from './steps';
import type { ClothLook, ViewName } from './studio';

/** What is kept in the browser from visit to visit. */
interface Kept extends DBSchema {
  work: { key: string; value: Project };
  settings: { key: string; value: Settings };
}

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
const VERSION = 1;
/** The one piece of work at hand. */
const AT_HAND = 'at-hand';

let opened: Promise<IDBPDatabase<Kept> | null> | null = null;

/** The browser's store; null where it gives none (some private windows). */
function store(): Promise<IDBPDatabase<Kept> | null> {
  opened ??= openDB<Kept>(DATABASE, VERSION, {
    upgrade(database) {
      database.createObjectStore('work');
      database.createObjectStore('settings');
    },
  }).catch(() => null);
  return opened;
}

/** The work that was at hand when the window was last open; null where there is none. */
export async function savedProject(): Promise<Project | null> {
  return (await (await store())?.get('work', AT_HAND)) ?? null;
}

/** Keeps the work at hand. False where the browser keeps nothing. */
export async function saveProject(project: Project): Promise<boolean> {
  const database = await store();
  if (database === null) return false;
  await database.put('work', project, AT_HAND);
  return true;
}

export async function savedSettings(): Promise<Settings | null> {
  return (await (await store())?.get('settings', AT_HAND)) ?? null;
}

export async function saveSettings(settings: Settings): Promise<void> {
  await (await store())?.put('settings', settings, AT_HAND);
}
