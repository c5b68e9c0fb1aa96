import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

/** Debian's Chromium; checks in a real browser are skipped where it is not installed. */
const CHROMIUM = '/usr/bin/chromium';

export const HAS_CHROMIUM = existsSync(CHROMIUM);

/** For the end of a test's name. */
export const IN_CHROMIUM = HAS_CHROMIUM ? '' : ` (skipped: ${CHROMIUM} is not installed)`;

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The folder of the built studio: that of OKURI_STUDIO if it is set, else built here unless it is there already. */
export async function builtStudio(): Promise<string> {
  if (process.env.OKURI_STUDIO) return process.env.OKURI_STUDIO;
  const { buildStudio } = await import(new URL('../../scripts/boot/studio.mjs', import.meta.url).href);
  return buildStudio(ROOT);
}

/** A folder on a port of this machine. */
export interface Host {
  /** Of its first page, with a slash at the end. */
  readonly address: string;
  /** Every path that was asked for and the answer's code, in their order. */
  readonly asked: readonly { readonly path: string; readonly code: number }[];
  close(): Promise<void>;
}

/** What any static host says of a file; without a type a browser runs no module. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
};

/**
 * A plain static host that knows nothing of what it serves: no rules of its own, no headers but the type. `under` is the sub-folder that the
 * files stand in, such as `/shelf/okuri/`; nothing is served outside it.
 */
export async function serveFiles(folder: string, { under = '/' }: { under?: string } = {}): Promise<Host> {
  const asked: { path: string; code: number }[] = [];
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const inside = path.startsWith(under) ? path.slice(under.length) || 'index.html' : null;
    const bytes =
      inside === null || inside.includes('..') ? null : await readFile(join(folder, inside)).catch(() => null);
    const code = bytes === null ? 404 : 200;
    asked.push({ path, code });
    response.writeHead(code, { 'content-type': TYPES[extname(inside ?? '')] ?? 'application/octet-stream' });
    response.end(bytes);
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}${under}`,
    asked,
    close: () =>
      new Promise((closed) => {
        server.close(() => closed());
        server.closeAllConnections();
      }),
  };
}

/** Chromium without a window. */
export function launchChromium(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM,
    // Build machines run as root, where Chromium's sandbox does not start. The rest keeps it from asking the network for anything of its own.
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** A tab with a store of its own, and all that went wrong in it. */
export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors on the console, errors that nothing caught, and addresses outside this machine that were asked for. */
  readonly faults: readonly string[];
}

/** So long a page is waited for: what is waited for stays once it is there, so only a busy machine needs it. */
export const PATIENT_MS = 300_000;

/** Opens an address in a fresh context: nothing is kept from other visits. Close the visit's `context`, or the browser. */
export async function visit(browser: Browser, address: string, options: BrowserContextOptions = {}): Promise<Visit> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    acceptDownloads: true,
    ...options,
  });
  context.setDefaultTimeout(PATIENT_MS);
  const faults: string[] = [];
  watch(context, faults);
  const page = await context.newPage();
  await page.goto(address);
  return { page, context, faults };
}

function watch(context: BrowserContext, faults: string[]): void {
  context.on('console', (message) => {
    if (message.type() === 'error') faults.push(`console: ${message.text()} (${message.location().url})`);
  });
  context.on('weberror', (error) => faults.push(`error: ${error.error().message}`));
  context.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    if (!['blob:', 'data:'].includes(protocol) && hostname !== '127.0.0.1') faults.push(`asked for ${request.url()}`);
  });
}

/** Waits until the job at hand is worked out and what is shown is of its present state. */
export async function workedOut(page: Page, timeoutMs = PATIENT_MS): Promise<void> {
  await page.locator('main[aria-busy="false"]').waitFor({ timeout: timeoutMs });
}

/**
 * Waits until an expression of the page is true. (Playwright's own `waitForFunction` evaluates text inside the page, which the page's policy
 * forbids; scripts for checks come in by `page.evaluate`, or by a visit with `bypassCSP`.)
 */
export async function until(page: Page, expression: string, timeoutMs = PATIENT_MS): Promise<void> {
  const end = performance.now() + timeoutMs;
  for (;;) {
    // A page that is starting anew gives no answer, or an error.
    const answer = page.evaluate(expression).catch(() => false);
    if (await Promise.race([answer, pause(ANSWER_MS).then(() => false)])) return;
    if (performance.now() > end) throw new Error(`not so within ${timeoutMs} ms: ${expression}`);
    await pause(LOOK_MS);
  }
}

const ANSWER_MS = 1_000;
const LOOK_MS = 50;

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
