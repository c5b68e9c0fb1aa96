import type { Studio } from '../state/studio';

/** At the latest then the files are fetched for times without a network, ms. */
const KEEP_AFTER_MS = 30_000;

const BUILD_KEY = 'okuri-build';

/** Keeps all files for times without a network. It waits for the first result: what is fetched before that is for the person to see. */
export function keepForOffline(studio: Studio): void {
  const workers = serviceWorkers();
  if (workers === null) return;
  let begun = false;
  const begin = () => {
    if (begun) return;
    begun = true;
    stop();
    // Files of older versions can go if this window needs none of them.
    workers.controller?.postMessage(import.meta.url);
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
