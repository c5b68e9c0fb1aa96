import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { okuri } from './support/command.js';
import { paintedPages } from './support/pdf-lines.js';
import { pdfStreams, streamDifference } from './support/pdf-streams.js';
import {
  builtStudio,
  HAS_CHROMIUM,
  type Host,
  IN_CHROMIUM,
  launchChromium,
  PATIENT_MS,
  serveFiles,
  type Visit,
  visit,
  workedOut,
} from './support/studio.js';
import {
  chooseFiles,
  colourAt,
  controls,
  dropFiles,
  fileAt,
  type HandFile,
  openMotif,
  openStep,
  saved,
  savedFiles,
  type as typeIn,
} from './support/studio-hand.js';

// The studio in Debian's Chromium. Its PDF is read back by pdf.js 5.4.296.

const at = (path: string) => fileURLToPath(new URL(`../fixtures/${path}`, import.meta.url));
const MM_PER_PT = 25.4 / 72;
/** ISO 216. */
const A4_MM = [210, 297] as const;

const DYE = '#1f3a5f';
const CLOTH = '#f4efe3';

/** What is seen once the window has caught up. */
const soon = <T>(look: () => Promise<T>, message?: string) =>
  expect.poll(look, { timeout: PATIENT_MS, ...(message === undefined ? {} : { message }) });

const textFile = (name: string, text: string): HandFile => ({ name, bytes: new TextEncoder().encode(text) });

describe.skipIf(!HAS_CHROMIUM)(`the studio in a browser${IN_CHROMIUM}`, () => {
  let browser: Browser;
  let host: Host;
  let folder: string;
  beforeAll(async () => {
    host = await serveFiles(await builtStudio());
    browser = await launchChromium();
    folder = await mkdtemp(join(tmpdir(), 'okuri-studio-'));
  });
  afterAll(async () => {
    await browser?.close();
    await host?.close();
    if (folder) await rm(folder, { recursive: true });
  });

  it('does a whole job, and its print sheets are those of the command', async () => {
    const { page, context, faults } = await visit(browser, host.address);
    await page.getByRole('heading', { name: 'Begin with your own drawing' }).waitFor();
    await workedOut(page);
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain('Weir vine');

    // Drops a drawing, is told its size and asked what its dark is.
    await dropFiles(page, [await fileAt(at('motifs/straight-off-by-1mm.svg'))]);
    const question = page.getByRole('dialog');
    await question.getByText('120 mm × 90 mm').waitFor();
    await question.getByRole('button', { name: /^What you cut/ }).click();
    await workedOut(page);
    expect(await page.getByRole('heading', { name: 'Begin with your own drawing' }).count()).toBe(0);

    // Walks to the join that is off: the view goes there. The leaf on the right sits 1 mm too low.
    await openStep(page, 'Joins');
    await page.getByText('4 of 6 joins meet; 2 do not, and come first.').waitFor();
    await page.getByRole('button', { name: 'Next join' }).click();
    await page.getByText('Join 1 of 6, on the right seam at 23.0 mm').waitFor();
    const half = 700 / 24 / 2;
    await soon(() => Promise.all([colourAt(page, -half, -half), colourAt(page, half, -half)])).toEqual([DYE, CLOTH]);

    // A half-drop, in which this drawing has open joins.
    await openStep(page, 'Repeat');
    await page.getByLabel(/^Half-drop/).check();
    await workedOut(page);
    await openStep(page, 'Joins');
    await page.getByRole('button', { name: 'Next join' }).click();
    await page.getByText('Nothing meets it on the other side').waitFor();

    await openStep(page, 'Motif');
    await typeIn(page, 'Width of the unit', '9 7/8in');
    await workedOut(page);
    expect(await page.getByLabel('Width of the unit', { exact: true }).inputValue()).toBe('250.82 mm');

    await openStep(page, 'Paper');
    await page
      .getByRole('button', { name: /^Accept tie/ })
      .first()
      .click();
    await workedOut(page);
    await page.getByRole('button', { name: /^Take out tie/ }).waitFor();

    // Six measurements of a sheet that is right: 250.825 by 188.119 mm.
    await openStep(page, 'Squaring');
    await page.getByText('A to B, planned 250.82 mm').waitFor();
    const diagonal = Math.hypot(250.825, 188.119).toFixed(1);
    for (const [label, text] of [
      ['Top, upper left to upper right hole', '9 7/8in'],
      ['Right, upper right to lower right hole', '188.1'],
      ['Bottom, lower left to lower right hole', '25.1 cm'],
      ['Left, upper left to lower left hole', '188'],
      ['Diagonal, upper left to lower right hole', diagonal],
      ['Diagonal, lower left to upper right hole', diagonal],
    ]) {
      await typeIn(page, label, text);
    }
    await soon(() => page.locator('.report').textContent()).toMatch(/square|rectangle|right angle/i);
    expect(await page.getByText('Nothing to mend here.').count()).toBe(0);

    await openStep(page, 'Print and hand over');
    const sheets = await saved(page, /^Print sheets/);
    expect(sheets.name).toBe('sheets.pdf');
    await page.getByRole('button', { name: 'Pages', exact: true }).click();
    const planned = page.getByRole('list', { name: 'Pages as they lie on the sheet' }).getByRole('listitem');
    await planned.first().waitFor();
    await checkPdf(sheets.bytes, 1 + (await planned.count()));

    // The same job by the command.
    for (const { name, bytes } of await savedFiles(page)) await writeFile(join(folder, name), bytes);
    const run = await okuri(['sheets', 'straight-off-by-1mm.okuri.json', '-o', 'command.pdf'], folder);
    expect(run).toMatchObject({ err: '' });
    const [ours, theirs] = [sheets.bytes, await readFile(join(folder, 'command.pdf'))].map(pdfStreams);
    expect(ours.length).toBeGreaterThan(await planned.count());
    expect(ours.map(({ dictionary }) => dictionary)).toEqual(theirs.map(({ dictionary }) => dictionary));
    const differences = ours.map(({ bytes }, k) => streamDifference(bytes, theirs[k].bytes, 0.001));
    expect(differences.filter((one) => one !== null)).toEqual([]);

    // Nothing of it is lost by a reload.
    await openStep(page, 'Squaring');
    const before = await controls(page);
    await page.waitForTimeout(400);
    await page.reload();
    await workedOut(page);
    expect(await controls(page)).toEqual(before);
    await openStep(page, 'Paper');
    await page.getByRole('button', { name: /^Take out tie/ }).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  describe('with a small drawing on the table', () => {
    let there: Visit;
    let page: Page;
    beforeAll(async () => {
      there = await visit(browser, host.address);
      page = there.page;
      await openMotif(page, await fileAt(at('motifs/straight-off-by-1mm.svg')));
    });
    afterAll(async () => {
      await there?.context.close();
    });

    it('takes every kind of change back and does it again', async () => {
      const changes: readonly (readonly [string, string, () => Promise<unknown>])[] = [
        ['a length', 'Motif', () => typeIn(page, 'Height of the unit', '10 cm')],
        ['one of a few', 'Motif', () => page.getByLabel('what shall be dark on the cloth').check()],
        ['a kind of repeat', 'Repeat', () => page.getByLabel(/^Brick/).check()],
        ['a fraction', 'Repeat', () => typeIn(page, 'Step', '1/3')],
        ['a number', 'Repeat', () => typeIn(page, 'Units across one sheet', '2')],
        ['a tick', 'Paper', () => page.getByLabel('Gauze is stuck over the cut sheet').uncheck()],
        ['a colour', 'Cloth and plan', () => page.getByLabel('Colour of the dye').fill('#5f1f3a')],
        ['a paper', 'Print and hand over', () => typeIn(page, 'Printer paper', 'Letter')],
        ['a measurement', 'Squaring', () => typeIn(page, 'Top, upper left to upper right hole', '121')],
        ['a file', 'Motif', async () => chooseFiles(page, [await fileAt(at('motifs/stroke-vine.svg'))])],
      ];
      const undo = page.getByRole('button', { name: 'Undo', exact: true });
      const redo = page.getByRole('button', { name: 'Redo', exact: true });
      const state = async () => [
        String(await page.getByRole('heading', { level: 1 }).textContent()),
        ...(await controls(page)),
      ];
      const steps: (readonly [string, string[], string[]])[] = [];
      for (const [what, step, make] of changes) {
        await openStep(page, step);
        const before = await state();
        await make();
        await soon(state, what).not.toEqual(before);
        if (what === 'a file') await page.getByRole('button', { name: /^What you cut/ }).click();
        const after = await state();
        steps.push([step, before, after]);
        await undo.click();
        // What the dark is was a step of its own.
        if (what === 'a file') await undo.click();
        await soon(state, `${what}, taken back`).toEqual(before);
        await redo.click();
        if (what === 'a file') await redo.click();
        await soon(state, `${what}, done again`).toEqual(after);
      }
      // All the way back, by keys, and once more forward.
      await page.locator('.stage-canvas').focus();
      await page.keyboard.press('Control+z');
      for (const [step, before] of steps.toReversed()) {
        await page.keyboard.press('Control+z');
        await openStep(page, step);
        await soon(state).toEqual(before);
        await page.locator('.stage-canvas').focus();
      }
      // A tie that was accepted, likewise.
      await openStep(page, 'Paper');
      const accept = page.getByRole('button', { name: /^Accept tie/ });
      const takeOut = page.getByRole('button', { name: /^Take out tie/ });
      await accept.first().click();
      await takeOut.waitFor();
      await undo.click();
      await takeOut.waitFor({ state: 'detached' });
      await redo.click();
      await takeOut.waitFor();
      await undo.click();
      await workedOut(page);
      expect(there.faults).toEqual([]);
    });

    it('keeps the work over a reload in the middle of it, and over a crash', async () => {
      await openStep(page, 'Repeat');
      await typeIn(page, 'Units down one sheet', '6');
      await page.locator('main[aria-busy="true"]').waitFor();
      await page.waitForTimeout(300);
      await page.reload();
      await soon(() => controls(page)).toContain('Units down one sheet: 6');
      await workedOut(page);
      await typeIn(page, 'Units down one sheet', '2');
      await page.waitForTimeout(400);
      const session = await there.context.newCDPSession(page);
      const crashed = page.waitForEvent('crash');
      session.send('Page.crash').catch(() => undefined);
      await crashed;
      await page.close();
      page = await there.context.newPage();
      await page.goto(host.address);
      await soon(() => controls(page)).toContain('Units down one sheet: 2');
      await workedOut(page);
      expect(there.faults).toEqual([]);
    });

    it('refuses broken files in a sentence, and the work at hand stays', async () => {
      await openStep(page, 'Motif');
      const job = JSON.stringify({ okuri: 1, motif: 'straight-off-by-1mm.svg', repeat: 'straight' });
      const title = page.getByRole('heading', { level: 1 });
      const before = [await title.textContent(), ...(await controls(page))];
      const broken: readonly (readonly [HandFile, RegExp])[] = [
        [textFile('letter.svg', 'Dear all, the drawing follows by post.'), /letter\.svg/],
        [textFile('empty.svg', ''), /empty\.svg/],
        [textFile('cut-off.svg', '<svg xmlns="http://www.w3.org/2000/svg" width="10mm"'), /cut-off\.svg/],
        [textFile('half.okuri.json', job.slice(0, 30)), /half\.okuri\.json/],
        [textFile('none.okuri.json', ''), /none\.okuri\.json/],
        [textFile('strange.okuri.json', job.replace('repeat', 'repeet')), /repeet/],
        [textFile('newer.okuri.json', job.replace('1', '7')), /okuri/],
        [textFile('other.okuri.json', job.replace('straight-off-by-1mm', 'else')), /"else\.svg".*both files/],
        [textFile('notes.docx', 'PK'), /notes\.docx/],
        [textFile('hand.ttf', 'no font at all'), /hand\.ttf/],
      ];
      for (const [file, words] of broken) {
        await chooseFiles(page, [file]);
        const said = page.locator('.message span');
        await soon(() => said.allTextContents(), file.name).toEqual([expect.stringMatching(words)]);
        const sentence = await said.textContent();
        expect(sentence, file.name).toMatch(/^\S.*[.!?]$/s);
        await page.getByRole('button', { name: 'Put away' }).click();
        expect([await title.textContent(), ...(await controls(page))], file.name).toEqual(before);
      }
      await workedOut(page);
      expect(there.faults).toEqual([]);
    });

    it('opens a job with the drawing it names, and one of the first days', async () => {
      await chooseFiles(page, [
        textFile(
          'vine.okuri.json',
          '{ "okuri": 1, "motif": "stroke-vine.svg", "repeat": "brick", "title": "Old vine" }',
        ),
        await fileAt(at('motifs/stroke-vine.svg')),
      ]);
      await page.getByRole('heading', { level: 1, name: 'Old vine' }).waitFor();
      await workedOut(page);
      await openStep(page, 'Repeat');
      expect(await page.getByLabel(/^Brick/).isChecked()).toBe(true);
      expect(there.faults).toEqual([]);
    });
  });

  /** Pages of A4, as many as planned, with bars as long as is written on them. */
  async function checkPdf(bytes: Uint8Array, count: number): Promise<void> {
    const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
    const document = await task.promise;
    expect(document.numPages).toBe(count);
    for (let k = 1; k <= count; k++) {
      const [x0, y0, x1, y1] = (await document.getPage(k)).view;
      const sides = [(x1 - x0) * MM_PER_PT, (y1 - y0) * MM_PER_PT].sort((a, b) => a - b);
      sides.forEach((side, i) => {
        expect(Math.abs(side - A4_MM[i])).toBeLessThan(0.01);
      });
    }
    await task.destroy();
    const pages = await paintedPages(bytes);
    for (const { paths, words } of pages.slice(1)) {
      const stated = words.flatMap(({ text }) => /bar (\d+) mm = /.exec(text)?.[1] ?? []).map(Number);
      expect(stated).toHaveLength(2);
      for (const mm of stated) {
        const bar = paths.some(
          ({ lineMm, sizeMm }) =>
            lineMm !== null && Math.abs(lineMm - 0.2) < 1e-3 && Math.abs(Math.max(...sizeMm) - mm) < 0.001,
        );
        expect(bar, `a bar of ${mm} mm`).toBe(true);
      }
    }
  }
});
