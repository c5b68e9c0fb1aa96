import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Download, Page } from 'playwright-core';
import { workedOut } from './studio.js';

/** A file as a person has it in hand. */
export interface HandFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export async function fileAt(path: string): Promise<HandFile> {
  return { name: basename(path), bytes: await readFile(path) };
}

/** Chooses files by the window's own chooser. */
export async function chooseFiles(page: Page, files: readonly HandFile[]): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open …', exact: true }).click();
  await (await chooser).setFiles(
    files.map(({ name, bytes }) => ({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) })),
  );
}

/** Drops files on the window, as the desktop hands them over. */
export async function dropFiles(page: Page, files: readonly HandFile[]): Promise<void> {
  const data = await page.evaluateHandle(
    (all) => {
      const transfer = new DataTransfer();
      for (const { name, bytes } of all) transfer.items.add(new File([new Uint8Array(bytes)], name));
      return transfer;
    },
    files.map(({ name, bytes }) => ({ name, bytes: [...bytes] })),
  );
  await page.dispatchEvent('main', 'dragover', { dataTransfer: data });
  await page.dispatchEvent('main', 'drop', { dataTransfer: data });
}

/** Opens a drawing and says that its dark is cut. */
export async function openMotif(page: Page, file: HandFile): Promise<void> {
  await chooseFiles(page, [file]);
  await page.getByRole('button', { name: /^What you cut/ }).click();
  await page.getByRole('heading', { level: 1, name: file.name.replace(/\.[^.]*$/, '') }).waitFor();
  await workedOut(page);
}

/** Opens a step of the work by its head. */
export async function openStep(page: Page, name: string): Promise<void> {
  const head = page.locator('.step-head', { has: page.getByText(name, { exact: true }) });
  if ((await head.getAttribute('aria-expanded')) !== 'true') await head.click();
}

/** Types into a field and leaves it by Enter. */
export async function type(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
}

/** What a button saves. */
export async function saved(page: Page, button: string | RegExp): Promise<HandFile> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button }).click(),
  ]);
  return downloaded(download);
}

/** The job and its drawing, as "Save as files" gives them. */
export async function savedFiles(page: Page): Promise<HandFile[]> {
  const all: Download[] = [];
  const both = page.waitForEvent('download', (download) => all.push(download) === 2);
  await page.getByRole('button', { name: 'Save as files' }).click();
  await both;
  return Promise.all(all.map(downloaded));
}

async function downloaded(download: Download): Promise<HandFile> {
  return { name: download.suggestedFilename(), bytes: new Uint8Array(await readFile(await download.path())) };
}

/** Every control of the step that is open, and what stands in it: `label: value`. Those of single ties, which come later, are left out. */
export function controls(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLInputElement>('.step-open input:not(.ties input)')].map((input) => {
      const label = input.labels?.[0]?.textContent ?? '';
      const isTicked = input.type === 'radio' || input.type === 'checkbox';
      return `${label}: ${isTicked ? input.checked : input.value}`;
    }),
  );
}

/** The colour of the picture on the table, so many px from its middle: `#rrggbb`. */
export function colourAt(page: Page, dx: number, dy: number): Promise<string> {
  return page.evaluate(
    ([dx, dy]) => {
      const canvas = document.querySelector<HTMLCanvasElement>('.stage-canvas');
      const context = canvas?.getContext('2d');
      if (!canvas || !context) throw new Error('nothing lies on the table');
      const ratio = canvas.width / canvas.clientWidth;
      const [x, y] = [canvas.width / 2 + dx * ratio, canvas.height / 2 + dy * ratio];
      const [r, g, b] = context.getImageData(Math.round(x), Math.round(y), 1, 1).data;
      return `#${[r, g, b].map((part) => part.toString(16).padStart(2, '0')).join('')}`;
    },
    [dx, dy],
  );
}
