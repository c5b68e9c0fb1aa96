// How smoothly the studio's window goes on, in Chromium: frames while the view moves, the time to a new picture, and its thread under a large motif.
import { HAS_CHROMIUM, openDrawing, openStudio, workedOut } from '../studio-window.mjs';
import { ellipses } from './artwork.mjs';

export async function studioBench({ quick }) {
  if (!HAS_CHROMIUM) return [['studio', 'left out: Chromium is not installed', '']];
  const studio = await openStudio();
  try {
    const busy = quick ? 4_000 : 20_000;
    return [...(await movingRows(studio)), ...(await busyRows(studio, busy))];
  } finally {
    await studio.close();
  }
}

/** Pan, zoom and a change of size with 1,000 shapes. */
async function movingRows(studio) {
  const page = await studio.page();
  await openDrawing(page, { name: 'shapes.svg', text: svgOf(ellipses(1000, { overlap: false })) });
  await page.getByRole('button', { name: /^What you cut/ }).click();
  await workedOut(page);
  const pans = await movedFrames(page, 'pan');
  const zooms = await movedFrames(page, 'zoom');
  await page.getByRole('button', { name: 'Whole', exact: true }).click();
  await page.waitForTimeout(500);
  const waits = [];
  for (const width of ['200mm', '230mm', '180mm', '260mm', '210mm']) {
    waits.push(await timeToPicture(page, width));
    await workedOut(page);
  }
  await page.context().close();
  return [
    ['studio, 1,000 shapes: a frame of panning, 95th percentile', framesText(pans), 'under 16 ms'],
    ['the same, zooming', framesText(zooms), 'under 16 ms'],
    [
      "from a change of the unit's width to the first picture of it, the longest of five",
      `${Math.max(...waits).toFixed(0)} ms (${waits.map((t) => t.toFixed(0)).join(', ')})`,
      'under 100 ms',
    ],
  ];
}

/** The window's thread while a large motif is read, worked out and shown; and Stop. */
async function busyRows(studio, count) {
  const page = await studio.page();
  await workedOut(page);
  await page.evaluate(() => {
    window.longTasks = [];
    new PerformanceObserver((list) => {
      for (const { duration, startTime } of list.getEntries()) window.longTasks.push([duration, startTime]);
    }).observe({ type: 'longtask' });
  });
  const started = performance.now();
  await openDrawing(page, { name: 'crowd.svg', text: svgOf(ellipses(count, { overlap: false })) });
  await page.getByRole('button', { name: /^What you cut/ }).click();
  const asked = performance.now();
  // Works on while it is worked out: steps are opened and the view moves.
  for (const step of ['Repeat', 'Cloth and plan', 'Motif']) {
    await page.locator('.step-head', { hasText: step }).click();
    await page.mouse.move(800, 400);
    await page.mouse.wheel(0, -200);
    await page.waitForTimeout(500);
  }
  await workedOut(page);
  const worked = performance.now();
  await page.getByText(/^All findings/).click();
  await page.getByRole('button', { name: 'Sheet', exact: true }).click();
  await page.locator('.stage-canvas').waitFor({ timeout: 300_000 });
  await page.waitForTimeout(1_000);
  const tasks = await page.evaluate(() => window.longTasks);
  const stop = await stopTime(page);
  await page.context().close();
  const longest = Math.max(0, ...tasks.map(([duration]) => duration));
  return [
    [
      `studio, ${count.toLocaleString('en')} shapes: longest task on the window's thread`,
      `${longest.toFixed(0)} ms of ${tasks.length} over 50 ms (${tasks.map(([t]) => t.toFixed(0)).join(', ')}); read in ${ms(asked - started)}, worked out in ${ms(worked - asked)}`,
      'under 200 ms',
    ],
    ['from Stop to the window saying so, and going on with something else', stop, ''],
  ];
}

/** Changes the job, stops the work on it, and sees that the next change is worked on. */
async function stopTime(page) {
  await page.locator('.step-head', { hasText: 'Repeat' }).click();
  await page.getByLabel(/^Half-drop/).check();
  const button = page.getByRole('button', { name: 'Stop', exact: true });
  await button.waitFor();
  const start = performance.now();
  await button.click();
  await page.getByText('Stopped: what is shown is of an older state.').waitFor();
  const stopped = performance.now() - start;
  if ((await button.count()) > 0) throw new Error('the work goes on after Stop');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await button.waitFor();
  return `${stopped.toFixed(0)} ms, and it goes on`;
}

const FRAMES = 240;

/**
 * Frames in each of which the view moves, by a drag or by the wheel: how long the window's thread is busy with each, from its beginning to when it
 * has been handed over to the screen, and how far they lie apart. ms
 */
async function movedFrames(page, how) {
  const box = await page.locator('.stage-canvas').boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  const frames = await page.evaluate(
    ({ how, count }) => {
      const canvas = document.querySelector('.stage-canvas');
      const { left, top, width, height } = canvas.getBoundingClientRect();
      const [x, y] = [left + width / 2, top + height / 2];
      const move = (k) => {
        const at = { bubbles: true, cancelable: true, pointerId: 1, clientX: x, clientY: y };
        if (how === 'zoom') {
          canvas.dispatchEvent(new WheelEvent('wheel', { ...at, deltaY: k % 120 < 60 ? -60 : 60 }));
        } else {
          const place = { clientX: x + 250 * Math.sin(k / 25), clientY: y + 150 * Math.sin(k / 18) };
          canvas.dispatchEvent(new PointerEvent('pointermove', { ...at, ...place }));
        }
      };
      return new Promise((resolve) => {
        const busy = [];
        const apart = [];
        const { port1, port2 } = new MessageChannel();
        let [last, begun] = [null, 0];
        // Comes after the frame was drawn.
        port1.onmessage = () => busy.push(performance.now() - begun);
        const frame = (now) => {
          begun = performance.now();
          if (last !== null) apart.push(now - last);
          last = now;
          if (apart.length === count) return resolve({ busy, apart });
          move(apart.length);
          port2.postMessage(null);
          requestAnimationFrame(frame);
        };
        requestAnimationFrame(frame);
      });
    },
    { how, count: FRAMES },
  );
  await page.mouse.up();
  return frames;
}

/** ms from Enter in the width's field to the first frame with a new picture of the cloth. */
function timeToPicture(page, width) {
  return page.evaluate((width) => {
    const field = [...document.querySelectorAll('.step-open label')].find(
      ({ textContent }) => textContent === 'Width of the unit',
    ).control;
    const canvas = document.querySelector('.stage-canvas');
    const context = canvas.getContext('2d');
    const look = () => context.getImageData(0, 0, canvas.width, canvas.height).data;
    const before = look();
    return new Promise((resolve) => {
      const laid = context.drawImage;
      const seen = new WeakSet();
      let first = true;
      const start = performance.now();
      context.drawImage = function (image, ...rest) {
        laid.call(this, image, ...rest);
        if (seen.has(image)) return;
        seen.add(image);
        if (first) {
          // What was there before is laid once more as soon as anything is drawn.
          first = false;
          if (performance.now() - start < 5) return;
        }
        const time = performance.now() - start;
        setTimeout(() => {
          const after = look();
          if (after.every((value, k) => value === before[k])) return;
          context.drawImage = laid;
          resolve(time);
        });
      };
      field.focus();
      field.value = width;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      setTimeout(() => field.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true })));
    });
  }, width);
}

function framesText({ busy, apart }) {
  const at = (times, share) =>
    [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(share * times.length))];
  const late = apart.filter((time) => time > LATE_MS).length;
  return `${at(busy, 0.95).toFixed(1)} ms (median ${at(busy, 0.5).toFixed(1)}, longest ${at(busy, 1).toFixed(1)}); ${late} of ${apart.length} came late (${at(apart, 0.95).toFixed(1)} ms apart)`;
}

/** Frames farther apart than this have left one out, at 60 a second. */
const LATE_MS = 25;

function ms(time) {
  return `${(time / 1000).toFixed(1)} s`;
}

function svgOf({ frame, shapes }) {
  const round = (value) => Math.round(value * 1000) / 1000;
  const paths = shapes.map(({ contours: [{ coords }] }) => {
    let d = `M${round(coords[0])} ${round(coords[1])}`;
    for (let k = 2; k < coords.length; k += 6) d += `C${[...coords.slice(k, k + 6)].map(round).join(' ')}`;
    return `<path d="${d}Z"/>`;
  });
  const { widthMm, heightMm } = frame;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}">${paths.join('')}</svg>`;
}
