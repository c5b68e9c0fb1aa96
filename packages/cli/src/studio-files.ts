import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';

/** A file that is handed to the page beside the studio's own. */
export interface HandedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What the page is to open instead of the work at hand. */
export interface Handed {
  /** Tells this hand-over from others, so that a reload does not open it once more. */
  readonly id: string;
  readonly files: readonly HandedFile[];
}

/** What is served under a path. */
export interface Answer {
  readonly type: string;
  readonly caching: string;
  readonly bytes: Uint8Array;
}

/** Types of the studio's files, as IANA's list of media types has them. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/vnd.microsoft.icon',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
};

const UNKNOWN_TYPE = 'application/octet-stream';

/** The bundler writes a hash of their contents into the names of the files in `assets`: such a file never changes. */
const KEPT_FOR_EVER = 'public, max-age=31536000, immutable';
const NEVER_KEPT = 'no-store';

/** Where the list of handed files stands, as the page asks for it. */
const HANDED_LIST = 'handed/list.json';

/**
 * The answers to all paths: every file of the built studio in `folder`, and what is handed over. All is read at once: a build
 * that comes later mixes with nothing, and nothing else of the disk can be asked for. Links are not followed. Null where
 * the folder holds no built studio.
 */
export function studioAnswers(folder: string, handed: Handed | null): ReadonlyMap<string, Answer> | null {
  const answers = new Map<string, Answer>();
  for (const path of filesIn(folder, '')) {
    const caching = path.startsWith('assets/') ? KEPT_FOR_EVER : NEVER_KEPT;
    const type = TYPES[extname(path).toLowerCase()] ?? UNKNOWN_TYPE;
    answers.set(`/${path}`, { type, caching, bytes: readFileSync(join(folder, path)) });
  }
  const index = answers.get('/index.html');
  if (index === undefined) return null;
  const page = { ...index, bytes: markServed(index.bytes, handed === null ? '' : HANDED_LIST) };
  answers.set('/', page).set('/index.html', page);
  for (const [path, answer] of handed === null ? [] : handedAnswers(handed)) answers.set(path, answer);
  return answers;
}

/** Paths of all plain files, with `/` between their parts; empty where there is no such folder. */
function filesIn(folder: string, under: string): string[] {
  let entries: ReturnType<typeof listFolder>;
  try {
    entries = listFolder(join(folder, under));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
  return entries.flatMap((entry) => {
    const path = `${under}${entry.name}`;
    if (entry.isDirectory()) return filesIn(folder, `${path}/`);
    return entry.isFile() ? [path] : [];
  });
}

function listFolder(path: string) {
  return readdirSync(path, { withFileTypes: true });
}

/** Tells the page that the command serves it, and where what it is handed stands. */
function markServed(page: Uint8Array, list: string): Uint8Array {
  const text = new TextDecoder().decode(page);
  return new TextEncoder().encode(text.replace('</head>', `<meta name="okuri-served" content="${list}" /></head>`));
}

/** Files are asked for by their place in the list: their names may be anything. */
function handedAnswers({ id, files }: Handed): [string, Answer][] {
  const list = { id, files: files.map(({ name }, k) => ({ name, at: `handed/${k}` })) };
  const bytes = new TextEncoder().encode(JSON.stringify(list));
  return [
    [`/${HANDED_LIST}`, { type: TYPES['.json'], caching: NEVER_KEPT, bytes }],
    ...files.map((file, k): [string, Answer] => [
      `/handed/${k}`,
      { type: UNKNOWN_TYPE, caching: NEVER_KEPT, bytes: file.bytes },
    ]),
  ];
}
