// Pictures of the studio: every step, view and dialog, light and dark, in a wide window and on a tablet held upright, into out/studio/ to be looked
// at; and the few that README.md shows into docs/pictures/.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { HAS_CHROMIUM, openStudio, workedOut } from './studio-window.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const OUT = here('../out/studio/');
const SHOWN = here('../docs/pictures/');

const STEPS = [
  ['motif', 'Motif'],
  ['repeat', 'Repeat'],
  ['joins', 'Joins'],
  ['paper', 'Paper'],
  ['margin', 'Held margin and dots'],
  ['squaring', 'Squaring'],
  ['cloth', 'Cloth and plan'],
  ['print', 'Print and hand over'],
  ['proof', 'Proof'],
];

const SHAPES = [
  ['wide', { viewport: { width: 1280, height: 800 } }],
  ['upright', { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true }],
];

/** Those that README.md shows: taken in the wide window by day. */
const README = { 'first-wide-light': 'studio-first.png', 'joins-wide-light': 'studio-joins.png' };

/** Most bytes of a picture that README.md shows. */
const README_BYTES_MAX = 250_000;

/** A sheet of the demo's size, two holes 1 mm off. */
const MEASURED = {
  'Top, upper left to upper right hole': '300',
  'Right, upper right to lower right hole': '420',
  'Bottom, lower left to lower right hole': '301',
  'Left, upper left to lower left hole': '420',
  'Diagonal, upper left to lower right hole': '516.7',
  'Diagonal, lower left to upper right hole': '516.1',
};

if (!HAS_CHROMIUM) console.log('The studio’s pictures are left out: Chromium is not installed.');
else await takeAll();

async function takeAll() {
  mkdirSync(OUT, { recursive: true });
  const studio = await openStudio();
  try {
    for (const [shape, options] of SHAPES) {
      const page = await studio.page(options);
      const take = (name) => takeBoth(page, name, shape);
      await workedOut(page);
      await take('first');
      for (const [name, words] of STEPS) await takeStep(page, name, words, take);
      for (const view of ['Sheet', 'Pages']) {
        await page.getByRole('button', { name: view, exact: true }).click();
        await page.locator('.stage-canvas').waitFor();
        await take(`view-${view.toLowerCase()}`);
      }
      await page.getByRole('button', { name: 'True size …' }).click();
      await take('true-size');
      await page.keyboard.press('Escape');
      await openFile(page, { name: 'notes.docx', bytes: Buffer.from('PK') });
      await page.locator('.message').waitFor();
      await take('refused');
      await page.getByRole('button', { name: 'Put away' }).click();
      const bytes = readFileSync(here('../fixtures/motifs/straight-off-by-1mm.svg'));
      await openFile(page, { name: 'leaves.svg', bytes });
      await page.getByRole('button', { name: /^What you cut/ }).waitFor();
      await take('question');
      await page.context().close();
    }
  } finally {
    await studio.close();
  }
}

async function takeStep(page, name, words, take) {
  const head = page.locator('.step-head', { has: page.getByText(words, { exact: true }) });
  if ((await head.getAttribute('aria-expanded')) !== 'true') await head.click();
  if (name === 'joins') await page.getByRole('button', { name: 'Next join' }).click();
  if (name === 'paper') await page.locator('.ties li').first().waitFor();
  if (name === 'cloth') await page.locator('.report').waitFor();
  if (name === 'squaring') {
    for (const [label, text] of Object.entries(MEASURED)) {
      await page.getByLabel(label, { exact: true }).fill(text);
      await page.getByLabel(label, { exact: true }).press('Enter');
    }
    await page.locator('.report').waitFor();
  }
  await take(name);
  // What lies below the edge of the window is a picture of its own.
  const slip = page.locator('.slip');
  const hidden = await slip.evaluate((at) => at.scrollHeight - at.scrollTop - at.clientHeight);
  if (hidden < 100) return;
  await slip.evaluate((at) => at.scrollBy(0, at.clientHeight - 100));
  await take(`${name}-below`);
}

async function openFile(page, { name, bytes }) {
  const file = { name, mimeType: 'application/octet-stream', buffer: bytes };
  await page.locator('input[type="file"]').first().setInputFiles(file);
}

async function takeBoth(page, name, shape) {
  for (const colorScheme of ['light', 'dark']) {
    await page.emulateMedia({ colorScheme });
    // The picture on the table is painted on another thread.
    await page.waitForTimeout(500);
    const full = `${name}-${shape}-${colorScheme}`;
    const png = await page.screenshot();
    await sharp(png).png({ palette: true, colours: 128 }).toFile(`${OUT}${full}.png`);
    if (README[full] !== undefined) await keepForReadme(png, README[full]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
}

async function keepForReadme(png, name) {
  const small = await sharp(png).resize({ width: 1000 }).png({ palette: true, colours: 64, effort: 10 }).toBuffer();
  if (small.length > README_BYTES_MAX) throw new Error(`docs/pictures/${name} has ${small.length} bytes`);
  writeFileSync(`${SHOWN}${name}`, small);
  console.log(`docs/pictures/${name}`);
}
