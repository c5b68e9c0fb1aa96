// The studio in Debian's Chromium, for pictures and for measuring: served from this machine by the command's own server.
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { studioAnswers } from '../packages/cli/dist/studio-files.js';
import { serveAnswers } from '../packages/cli/dist/studio-server.js';
import { buildStudio } from './boot/studio.mjs';

const CHROMIUM = '/usr/bin/chromium';

export const HAS_CHROMIUM = existsSync(CHROMIUM);

/** Serves the built studio and starts the browser; `close` ends both. The folder of OKURI_STUDIO stands in for the build if it is set. */
export async function openStudio({ args = [] } = {}) {
  const folder = process.env.OKURI_STUDIO || buildStudio(fileURLToPath(new URL('..', import.meta.url)));
  const served = await serveAnswers(studioAnswers(folder, null), 0);
  const browser = await chromium.launch({
    executablePath: CHROMIUM,
    // Build machines run as root, where Chromium's sandbox does not start.
    args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking', ...args],
  });
  return {
    async page(options) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      const page = await context.newPage();
      await page.goto(served.address);
      return page;
    },
    async close() {
      await browser.close();
      await served.close();
    },
  };
}

/** Waits until the job at hand is worked out. */
export function workedOut(page, timeout = 300_000) {
  return page.locator('main[aria-busy="false"]').waitFor({ timeout });
}

/** Opens a drawing, `{ name, text }`, from a file on the disk: handed over in memory it would keep the window busy by itself. */
export async function openDrawing(page, { name, text }) {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-studio-'));
  try {
    const file = join(folder, name);
    writeFileSync(file, text);
    await page.locator('input[type="file"]').first().setInputFiles(file);
    await page.getByRole('button', { name: /^What you cut/ }).waitFor({ timeout: 120_000 });
  } finally {
    rmSync(folder, { recursive: true });
  }
}
