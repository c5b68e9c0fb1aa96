import type { Studio } from '../state/studio';

/** A newer version takes over or says that it stays within a second; a browser that does neither is not waited for any longer, ms. */
const TAKE_OVER_MS = 10_000;

/** At the latest then the files are fetched for times without a network, ms. */
const KEEP_AFTER_MS = 30_000;

const BUILD_KEY = 'okuri-build';

/**
 * A newer version that was fetched during an earlier visit takes over now, before there is work to disturb: the page starts anew with it. Where
 * another window still runs the older one nothing happens.
 */
export async function takeNewVersion(): Promise<void> {
  const workers = serviceWorkers();
  const waiting = (await workers?.getRegistration())?.waiting;
  if (workers === null || !waiting) return;
  const taken = new Promise<boolean>((resolve) => {
    workers.addEventListener('controllerchange', () => resolve(true), { once: true });
    workers.addEventListener('message', () => resolve(false), { once: true });
    setTimeout(() => resolve(false), TAKE_OVER_MS);
  });
  workers.startMessages();
  waiting.postMessage('take-over');
  if (!(await taken)) return;
  location.reload();
  // Nothing of the older version starts any more.
  await new Promise(() => undefined);
}

/** Keeps all files for times without a network. It waits for the first result: what is fetched before that is for the person to see. */
export function keepForOffline(studio: Studio): void {
  const workers = serviceWorkers();
  if (workers === null) return;
  let begun = false;
  const begin = () => {
    if (begun) return;
    begun = true;
    stop();
    // A browser that keeps nothing works with the network on all the same.
    workers.register(new URL('service-worker.js', document.baseURI)).catch(() => undefined);
  };
  const stop = studio.subscribe(() => {
    if (studio.state.checked !== null || studio.state.refusal !== null) begin();
  });
  setTimeout(begin, KEEP_AFTER_MS);
}

/** Says it once where this is another version than at the last visit. */
export function sayNewVersion(studio: Studio): void {
  // The name of the script holds a hash of everything that it is made of.
  const build = new URL(import.meta.url).pathname;
  try {
    const last = localStorage.getItem(BUILD_KEY);
    localStorage.setItem(BUILD_KEY, build);
    if (last !== null && last !== build) studio.set({ said: 'This is a newer version of the studio than last time.' });
  } catch {
    // A browser that keeps nothing knows of no last visit.
  }
}

/** Null where the browser has none: an old one, or an address that is neither https nor this machine. */
function serviceWorkers(): ServiceWorkerContainer | null {
  return 'serviceWorker' in navigator ? navigator.serviceWorker : null;
}
