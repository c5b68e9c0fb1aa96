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

// A newer version takes over as soon as all of its files are there: what is opened from then on is the newer studio. Windows that are open go on with
// the older one, whose files stay until none of them is left.
worker.addEventListener('install', (event) => event.waitUntil(fill().then(() => worker.skipWaiting())));

// The first visit was not looked after so far: from now on it is, so that what it fetches later comes from the shelf too.
worker.addEventListener('activate', (event) => event.waitUntil(worker.clients.claim()));

worker.addEventListener('message', (event) => {
  // A window tells by which script it was started: one of this version, or of the one before.
  if (typeof event.data === 'string' && files.has(event.data)) event.waitUntil(clearOlder());
});

worker.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET') return;
  const asked = new URL(event.request.url);
  const address = `${asked.origin}${asked.pathname}`;
  const file = address === START_PAGE ? folder : address;
  if (files.has(file) || isNamedByContent(file)) event.respondWith(fromShelf(file, event.request));
});

/** A name in `assets` holds a hash of the contents: whichever version a file of that name came with, it is the same. */
function isNamedByContent(address: string): boolean {
  return address.startsWith(`${folder}assets/`);
}

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
  const older = isNamedByContent(address) ? await caches.match(address) : undefined;
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
  const found = (await shelf.match(file)) ?? (isNamedByContent(file) ? await caches.match(file) : undefined);
  return found ?? fetch(request);
}

/** Another window may still run an older version, and ask for more of it. */
async function clearOlder(): Promise<void> {
  const windows = await worker.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (windows.length > 1) return;
  const names = (await caches.keys()).filter((name) => name.startsWith(OWN_SHELVES) && name !== SHELF);
  await Promise.all(names.map((name) => caches.delete(name)));
}
