import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
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
import { chooseFiles, colourAt, fileAt, openMotif, openStep } from './support/studio-hand.js';

// Manners of the studio in Debian's Chromium. axe-core 4.14.1 is an outside check of WCAG 2.2 A and AA and of good practice.

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const MOTIF = fileURLToPath(new URL('../fixtures/motifs/straight-off-by-1mm.svg', import.meta.url));

const STEPS = [
  'Motif',
  'Repeat',
  'Joins',
  'Paper',
  'Held margin and dots',
  'Squaring',
  'Cloth and plan',
  'Print and hand over',
  'Proof',
];
/** What comes last of a step. */
const LATE: Readonly<Record<string, string>> = { Paper: '.ties li', 'Cloth and plan': '.report' };
const WIDE = { width: 1280, height: 800 };
const TABLET = { width: 820, height: 1180 };

describe.skipIf(!HAS_CHROMIUM)(`manners of the studio${IN_CHROMIUM}`, () => {
  let browser: Browser;
  let host: Host;
  let there: Visit;
  let page: Page;
  beforeAll(async () => {
    host = await serveFiles(await builtStudio());
    browser = await launchChromium();
    there = await visit(browser, host.address);
    page = there.page;
    await openMotif(page, await fileAt(MOTIF));
  });
  afterAll(async () => {
    await browser?.close();
    await host?.close();
  });

  it('has no fault of accessibility in any step, view or dialog, light or dark, wide or upright', async () => {
    const faults: string[] = [];
    const look = async (where: string): Promise<void> => {
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        faults.push(...(await axeFaults(page)).map((fault) => `${where}, ${colorScheme}: ${fault}`));
      }
    };
    for (const [shape, size] of [
      ['wide', WIDE],
      ['upright', TABLET],
    ] as const) {
      await page.setViewportSize(size);
      await page.getByRole('button', { name: 'Cloth', exact: true }).click();
      for (const step of STEPS) {
        await openStep(page, step);
        await page.locator('.step-open .step-body').waitFor();
        if (step === 'Joins') await page.getByRole('button', { name: 'Next join' }).click();
        if (step === 'Paper')
          await page
            .getByRole('button', { name: /^Accept tie/ })
            .first()
            .waitFor();
        await look(`${step}, ${shape}`);
      }
      await page.getByText(/^All findings/).click();
      await look(`all findings, ${shape}`);
      await page.getByText(/^All findings/).click();
      for (const view of ['Sheet', 'Pages']) {
        await page.getByRole('button', { name: view, exact: true }).click();
        await page.locator('.stage-canvas').waitFor();
        await look(`${view}, ${shape}`);
      }
      await page.getByRole('button', { name: 'True size …' }).click();
      await look(`true size, ${shape}`);
      await page.keyboard.press('Escape');
      await chooseFiles(page, [{ name: 'notes.docx', bytes: new Uint8Array(4) }]);
      await page.locator('.message').waitFor();
      await look(`a message, ${shape}`);
      await page.getByRole('button', { name: 'Put away' }).click();
      await chooseFiles(page, [await fileAt(MOTIF)]);
      await page.getByRole('dialog').getByText('120 mm × 90 mm').waitFor();
      await look(`the question, ${shape}`);
      await page.keyboard.press('Escape');
      await workedOut(page);
    }
    await page.emulateMedia({ colorScheme: 'light' });
    await page.setViewportSize(WIDE);
    expect(faults).toEqual([]);
  });

  it('is found at fault where a field has lost its label', async () => {
    await openStep(page, 'Motif');
    await page.evaluate(() => document.querySelector('.step-open label')?.remove());
    expect((await axeFaults(page)).join()).toMatch(/^label/);
    await page.waitForTimeout(300);
    await page.reload();
    await workedOut(page);
  });

  it('is worked by keys alone: every step, its controls, and the table', async () => {
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    for (const step of STEPS) {
      await tabTo(page, `the step ${step}`, (at) => at.step === step);
      await page.keyboard.press('Enter');
      await page.locator('.step-open', { has: page.getByText(step, { exact: true }) }).waitFor();
      // What the engine is asked for when a step opens comes a moment later.
      if (LATE[step] !== undefined) await page.locator(LATE[step]).first().waitFor();
      const inside = await tabThrough(page);
      expect(
        inside.filter(({ seen }) => !seen),
        `${step}: focus that is not seen`,
      ).toEqual([]);
    }
    // Arrows among the kinds of repeat.
    await openStep(page, 'Repeat');
    await tabTo(page, 'the kinds of repeat', (at) => at.type === 'radio');
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => page.getByLabel(/^Half-drop/).isChecked(), { timeout: PATIENT_MS }).toBe(true);
    await page.keyboard.press('ArrowUp');
    await workedOut(page);

    await tabTo(page, 'the views', (at) => at.text === 'Cloth');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.getByRole('button', { name: 'Sheet', exact: true }).getAttribute('aria-pressed'), {
        timeout: PATIENT_MS,
      })
      .toBe('true');
    await page.getByRole('button', { name: 'Cloth', exact: true }).press('Enter');
    await tabTo(page, 'the cloth', (at) => at.tag === 'CANVAS');
    await page.keyboard.press('0');
    await page.waitForTimeout(400);
    const before = await picture(page);
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => picture(page), { timeout: PATIENT_MS }).not.toBe(before);
    await page.keyboard.press('0');
    await expect.poll(() => picture(page), { timeout: PATIENT_MS }).toBe(before);
  });

  it('closes dialogs with Escape, and the focus comes back', async () => {
    const opener = page.getByRole('button', { name: 'True size …' });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.closest('dialog') !== null)).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => page.getByRole('dialog').count(), { timeout: PATIENT_MS }).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toContain('True size');
  });

  it.each([
    ['twice as large in a window of 1280 × 800', { width: 640, height: 400 }, 100],
    ['letters of twice the size', WIDE, 200],
    ['letters of twice the size on a tablet', TABLET, 200],
  ])('can be used at %s', async (_, size, percent) => {
    await page.setViewportSize(size);
    await page.evaluate((size) => document.documentElement.style.setProperty('font-size', size), `${percent}%`);
    const cut: string[] = [];
    for (const step of STEPS) {
      await openStep(page, step);
      await page.locator('.step-open .step-body').waitFor();
      cut.push(...(await cutOff(page)).map((what) => `${step}: ${what}`));
    }
    await page.evaluate(() => document.documentElement.style.removeProperty('font-size'));
    await page.setViewportSize(WIDE);
    expect(cut).toEqual([]);
  });

  it('gives fingers 44 px, on a tablet', async () => {
    const { page, context, faults } = await visit(browser, host.address, {
      viewport: TABLET,
      hasTouch: true,
      isMobile: true,
    });
    await openMotif(page, await fileAt(MOTIF));
    const small: string[] = [];
    for (const step of STEPS) {
      await openStep(page, step);
      small.push(...(await smallTargets(page)));
    }
    expect([...new Set(small)]).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('moves nothing by itself where that is not wanted, and keeps to colours of the person’s own', async () => {
    await page.emulateMedia({ reducedMotion: 'reduce', forcedColors: 'active' });
    await openStep(page, 'Joins');
    const moving = await page.evaluate(() => document.getAnimations().length);
    expect(moving).toBe(0);
    // What is chosen is told by an outline, not by a colour that is not kept.
    const chosen = page.locator('.view-choice button[aria-pressed="true"]');
    expect(await chosen.evaluate((button) => getComputedStyle(button).outlineStyle)).toBe('solid');
    const other = page.locator('.view-choice button[aria-pressed="false"]').first();
    expect(await other.evaluate((button) => getComputedStyle(button).outlineStyle)).toBe('none');
    // The cloth keeps its dye: it is what the work is about.
    expect(await colourAt(page, 0, 0)).toMatch(/^#/);
    await page.emulateMedia({ reducedMotion: null, forcedColors: null });
  });

  it('has said nothing on the console and asked nothing of the network', () => {
    expect(there.faults).toEqual([]);
    expect(host.asked.filter(({ code }) => code !== 200)).toEqual([]);
  });
});

async function axeFaults(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: { run(options: object): Promise<AxeResult> } };
    const { violations } = await axe.run({ resultTypes: ['violations'] });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id} ${target} ${failureSummary}`),
    );
  });
}

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly nodes: readonly { readonly target: readonly string[]; readonly failureSummary: string }[];
  }[];
}

/** Where the focus is. */
interface Focused {
  readonly tag: string;
  readonly type: string;
  readonly text: string;
  /** The step that it opens; empty for all else. */
  readonly step: string;
  /** Within an open step's body. */
  readonly inside: boolean;
  /** Marked by an outline, and within the window. */
  readonly seen: boolean;
}

function focused(page: Page): Promise<Focused> {
  return page.evaluate(() => {
    const at = document.activeElement as HTMLElement;
    const { outlineStyle, outlineWidth } = getComputedStyle(at);
    const box = at.getBoundingClientRect();
    const isIn = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
    return {
      tag: at.tagName,
      type: at.getAttribute('type') ?? '',
      text: at.textContent ?? '',
      step: at.classList.contains('step-head') ? (at.querySelector('.step-name')?.textContent ?? '') : '',
      inside: at.closest('.step-body') !== null,
      seen: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2 && isIn,
    };
  });
}

const STOPS_MAX = 120;

/** Presses Tab until the focus is there. */
async function tabTo(page: Page, what: string, isIt: (at: Focused) => boolean): Promise<void> {
  for (let k = 0; k < STOPS_MAX; k++) {
    if (isIt(await focused(page))) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab never comes to ${what}`);
}

/** Presses Tab through the body of the open step; every stop in it. */
async function tabThrough(page: Page): Promise<Focused[]> {
  const stops: Focused[] = [];
  for (let k = 0; k < STOPS_MAX; k++) {
    await page.keyboard.press('Tab');
    const at = await focused(page);
    if (!at.inside) return stops;
    stops.push(at);
  }
  throw new Error('Tab never leaves the step');
}

/** The picture on the table. */
function picture(page: Page): Promise<string> {
  return page.evaluate(() => document.querySelector<HTMLCanvasElement>('.stage-canvas')?.toDataURL() ?? '');
}

/** Words that are cut off, and whatever makes the window scroll sideways. */
function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const whole = document.documentElement;
    if (whole.scrollWidth > innerWidth + 1) found.push(`the window scrolls sideways to ${whole.scrollWidth} px`);
    for (const slip of document.querySelectorAll('.slip, .headline')) {
      if (slip.scrollWidth > slip.clientWidth + 1) found.push(`${slip.className} scrolls sideways`);
    }
    for (const one of document.querySelectorAll<HTMLElement>('button, label, legend, p, dt, dd, th, td, h1, h2, h3')) {
      if (one.offsetParent === null || one.classList.contains('unseen')) continue;
      if (one.scrollWidth > one.clientWidth + 2 && getComputedStyle(one).display !== 'inline') {
        found.push(`${one.tagName} "${one.textContent?.slice(0, 40)}" is wider than its place`);
      }
    }
    const stage = document.querySelector('.stage-canvas')?.getBoundingClientRect();
    if (!stage || stage.width < 200 || stage.height < 150)
      found.push(`the table has ${stage?.width} × ${stage?.height} px`);
    return found;
  });
}

/** What is pressed and is less than 44 px high or wide (a label counts with its box). */
function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, input, summary, a')].flatMap((one) => {
      if (one.offsetParent === null) return [];
      const label = (one as HTMLInputElement).labels?.[0];
      const isTicked = ['radio', 'checkbox'].includes((one as HTMLInputElement).type);
      const { width, height } = (isTicked && label ? label : one).getBoundingClientRect();
      if (width >= 43.9 && height >= 43.9) return [];
      return [
        `${one.tagName} "${(label ?? one).textContent?.slice(0, 30)}" ${width.toFixed(0)} × ${height.toFixed(0)}`,
      ];
    }),
  );
}
