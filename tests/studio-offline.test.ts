import {
  appendFileSync,
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  builtStudio,
  HAS_CHROMIUM,
  type Host,
  IN_CHROMIUM,
  launchChromium,
  serveFiles,
  until,
  visit,
  workedOut,
} from './support/studio.js';
import { readPages } from './whole-job/read-pdf.js';

// From a static host that knows nothing of the studio, in a sub-folder of it.

/** What a first visit may fetch until the cloth is there, compressed (gzip, level 6), bytes. */
const FIRST_LOAD_MAX = 1e6;
const UNDER = '/shelf/okuri/';
const SMALL = Object.entries({
  'dot.okuri.json': '{ "okuri": 1, "motif": "dot.svg", "repeat": "straight" }',
  'dot.svg':
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><circle cx="30" cy="20" r="9"/></svg>',
}).map(([name, text]) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) }));
const WORKER = 'service-worker.js';
/** Only a PDF needs these. */
const WRITER = /to-pdf|faces|\.ttf$/;

describe.skipIf(!HAS_CHROMIUM)(`the studio from a static host${IN_CHROMIUM}`, () => {
  let browser: Browser;
  let folder: string;
  let host: Host;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'okuri-studio-'));
    cpSync(await builtStudio(), folder, { recursive: true });
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    await host?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('shows the cloth within 1 MB, and works on without the host', async () => {
    host = await serveFiles(folder, { under: UNDER });
    const { page, context, faults } = await visit(browser, host.address);
    await workedOut(page);
    // What comes after it is fetched for times without a network.
    const asked = host.asked.map(({ path }) => path.slice(UNDER.length));
    const first = new Set(asked.includes(WORKER) ? asked.slice(0, asked.indexOf(WORKER)) : asked);
    expect([...first].filter((path) => WRITER.test(path))).toEqual([]);
    const sizes = [...first].map((path) => gzipSync(readFileSync(join(folder, path || 'index.html'))).length);
    expect(sizes.length).toBeGreaterThan(4);
    expect(sizes.reduce((sum, size) => sum + size)).toBeLessThan(FIRST_LOAD_MAX);

    await kept(page);
    expect(host.asked.filter(({ code }) => code !== 200)).toEqual([]);
    expect(host.asked.filter(({ path }) => !path.startsWith(UNDER))).toEqual([]);
    await host.close();

    await page.reload();
    await workedOut(page);
    await page.getByRole('button', { name: /Print and hand over/ }).click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Placement map (PDF)' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('plan.pdf');
    const pages = await readPages(new Uint8Array(await readFile(await download.path())));
    expect(pages.length).toBeGreaterThan(0);
    expect(pages.flatMap(({ paths }) => paths).length).toBeGreaterThan(100);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('takes a newer version at the next visit, says so once, and keeps nothing of the older one', async () => {
    host = await serveFiles(folder, { under: UNDER });
    const { page, context, faults } = await visit(browser, host.address);
    // Small work, which is soon done.
    await page.locator('input[type=file][multiple]').first().setInputFiles(SMALL);
    await kept(page);
    // A second studio may stand elsewhere on the same host.
    const other = `okuri-studio ${new URL(host.address).origin}/elsewhere/ 1`;
    await page.evaluate((name) => caches.open(name), other);
    const before = await shelves(page);

    await newerVersion(folder);
    await page.reload();
    expect(await page.title()).toBe('Okuri');
    // Where it takes over meanwhile, the window that is open goes on with what it came with.
    await until(page, `caches.keys().then((names) => names.length === ${before.length + 1})`);
    await until(
      page,
      `navigator.serviceWorker.getRegistration().then(({ waiting, installing }) => waiting === null && installing === null)`,
    );
    await workedOut(page);
    expect(await shelves(page)).toEqual(expect.arrayContaining(before));

    await page.reload();
    await until(page, "document.title === 'Okuri, newer'");
    await page.getByText('This is a newer version of the studio than last time.').waitFor();
    await until(page, 'caches.keys().then((names) => names.length === 2)');
    const after = await shelves(page);
    expect(after).toContain(other);
    expect(after.filter((name) => before.includes(name))).toEqual([other]);

    // A host that gives a file other than the list says, as one does that is being written to: what is there stays.
    appendFileSync(join(folder, 'icon.svg'), '<!-- half written -->');
    const worker = readFileSync(join(folder, WORKER), 'utf8');
    writeFileSync(join(folder, WORKER), worker.replace('VERSION = "', 'VERSION = "0'));
    expect(await page.evaluate(FATE_OF_UPDATE)).toBe('redundant');
    expect(await shelves(page)).toEqual(after);
    await host.close();
    await page.reload();
    expect(await page.title()).toBe('Okuri, newer');
    await page.locator('h1').waitFor();
    await expect(page.getByText('This is a newer version').count()).resolves.toBe(0);
    expect(faults.filter((fault) => !/icon\.svg/.test(fault))).toEqual([]);
    await context.close();
  });
});

/** Looks for a newer version; what became of it. */
const FATE_OF_UPDATE = `navigator.serviceWorker.getRegistration().then((found) => new Promise((tell) => {
  found.addEventListener('updatefound', () => {
    const fresh = found.installing;
    const look = () => ['redundant', 'activated'].includes(fresh.state) && tell(fresh.state);
    fresh.addEventListener('statechange', look);
    look();
  });
  found.update();
}))`;

/** Waits until everything is kept for times without a network, and the page is looked after. */
async function kept(page: Page): Promise<void> {
  await until(page, 'navigator.serviceWorker.controller !== null');
}

function shelves(page: Page): Promise<string[]> {
  return page.evaluate('caches.keys()');
}

/** Another title, and the page's own script under another name, as the bundler gives it where something has changed. */
async function newerVersion(folder: string): Promise<void> {
  const page = join(folder, 'index.html');
  const text = readFileSync(page, 'utf8');
  const [, script] = /src="\.\/(assets\/index-[^"]*\.js)"/.exec(text) ?? [];
  if (script === undefined) throw new Error('the page names no script');
  renameSync(join(folder, script), join(folder, 'assets/index-newer.js'));
  writeFileSync(page, text.replace(script, 'assets/index-newer.js').replace('<title>Okuri<', '<title>Okuri, newer<'));
  for (const name of readdirSync(join(folder, 'assets')).filter((file) => /\.js$/.test(file))) {
    const file = join(folder, 'assets', name);
    const old = script.slice('assets/'.length);
    writeFileSync(file, readFileSync(file, 'utf8').replaceAll(old, 'index-newer.js'));
  }
  const { writeServiceWorker } = await import(new URL('../packages/studio/build/offline.ts', import.meta.url).href);
  await writeServiceWorker(folder);
}
