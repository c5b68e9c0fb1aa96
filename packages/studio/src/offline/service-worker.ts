// Stands between the studio and its host: after the first visit every file of the studio comes from the browser's own store. The build writes
// the three constants before it. It imports nothing, so that it is one file.

/** Every file, by its address seen from the studio's folder, with the hash of its bytes (Subresource Integrity). */
declare const FILES: readonly (readonly [path: string, integrity: string])[];
declare const VERSION: string;
declare const POLICY: string;

/** As much of a service worker's own scope as is used (Service Workers, W3C). */
interface WorkerScope {
  readonly registration: { readonly scope: string };
  readonly clients: {
    claim(): Promise<void>;
    matchAll(which: { type: 'window'; includeUncontrolled: boolean }): Promise<readonly unknown[]>;
  };
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install' | 'activate' | 'message', listener: (event: WorkerEvent) => void): void;
  addEventListener(type: 'fetch', listener: (event: AskedEvent) => void): void;
}

interface WorkerEvent {
  readonly data?: unknown;
  /** The page that a message came from. */
  readonly source?: { postMessage(message: unknown): void } | null;
  waitUntil(work: Promise<unknown>): void;
}

interface AskedEvent {
  readonly request: Request;
  respondWith(reply: Promise<Response>): void;
}

const worker = self as unknown as WorkerScope;
const folder = worker.registration.scope;

// Several studios may stand in folders of one host: each has shelves of its own.
const OWN_SHELVES = `okuri-studio ${folder} `;
const SHELF = `${OWN_SHELVES}${VERSION}`;

const files = new Map(FILES.map(([path, integrity]) => [new URL(path, folder).href, integrity]));
const START_PAGE = new URL('index.html', folder).href;

worker.addEventListener('install', (event) => event.waitUntil(fill()));

worker.addEventListener('activate', (event) => {
  // The first visit was not yet looked after: from now on it is, so that what is fetched later comes from the shelf too.
  event.waitUntil(Promise.all([clearOlder(), worker.clients.claim()]));
});

worker.addEventListener('message', (event) => {
  if (event.data === 'take-over') event.waitUntil(takeOver(() => event.source?.postMessage('stays')));
});

worker.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET') return;
  const asked = new URL(event.request.url);
  const address = `${asked.origin}${asked.pathname}`;
  const file = address === START_PAGE ? folder : address;
  if (files.has(file)) event.respondWith(fromShelf(file, event.request));
});

/** All files or none: a host that is being written to meanwhile gives files that don't go together, and their hashes tell. */
async function fill(): Promise<void> {
  const shelf = await caches.open(SHELF);
  try {
    await Promise.all([...files].map((file) => put(shelf, file)));
  } catch (error) {
    // The next visit tries again.
    await caches.delete(SHELF);
    throw error;
  }
}

async function put(shelf: Cache, [address, integrity]: readonly [string, string]): Promise<void> {
  // A name in `assets` holds a hash of the contents: an older version's file of that name is the same.
  const older = address.startsWith(`${folder}assets/`) ? await caches.match(address) : undefined;
  await shelf.put(address, older ?? (await fetched(address, integrity)));
}

/** A file as the build wrote it. It is put down anew, without the host's own headers and without the mark of having been sent on. */
async function fetched(address: string, integrity: string): Promise<Response> {
  const reply = await fetch(address, { integrity, cache: 'no-cache' });
  if (!reply.ok) throw new Error(`${address} is not to be had: ${reply.status}`);
  const headers = {
    'content-type': reply.headers.get('content-type') ?? 'application/octet-stream',
    'content-security-policy': POLICY,
  };
  return new Response(await reply.blob(), { headers });
}

async function fromShelf(file: string, request: Request): Promise<Response> {
  const shelf = await caches.open(SHELF);
  return (await shelf.match(file)) ?? fetch(request);
}

async function clearOlder(): Promise<void> {
  const names = (await caches.keys()).filter((name) => name.startsWith(OWN_SHELVES) && name !== SHELF);
  await Promise.all(names.map((name) => caches.delete(name)));
}

/** How long a page that is being left may still be counted, and how often it is looked again, ms. */
const LEAVING_MS = 600;
const LOOK_MS = 50;

/** Takes over at once where one window alone is open; others would run an older version that they could not fetch the rest of. */
async function takeOver(stays: () => void): Promise<void> {
  for (let waited = 0; waited <= LEAVING_MS; waited += LOOK_MS) {
    const windows = await worker.clients.matchAll({ type: 'window', includeUncontrolled: true });
    if (windows.length <= 1) return worker.skipWaiting();
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
  }
  stays();
}
