import { describe, expect, it } from 'vitest';
import { jobOf } from '../job/leaf-job.test-help.js';
import { InputError } from '../units/input-error.js';
import { readJob } from './read.js';
import { newJobText } from './write.js';

const FULL = {
  cloth: {
    width: '1.4m',
    length: '30m',
    sizes: 'finished',
    shrinkAlong: 5,
    shrinkAcross: -0.5,
    direction: 'across',
    selvedge: { left: '20mm', right: '1.5cm' },
    start: '10cm',
    end: '5cm',
  },
  plan: {
    start: 'in',
    fill: 'whole',
    align: 'centre',
    stepping: 'on',
    wipeEvery: 3,
    checkEvery: 4,
    faces: 'both',
    secondsAPlacement: 60,
    dryingMinutes: 30,
    hoursADay: 6,
    film: '0.5mm',
    loss: 25,
    density: 1.05,
    sheetLasts: 300,
    sheetDays: 2,
    order: { finished: '12m', wholeRepeats: true },
    panels: { count: 3, finished: '2.4m' },
  },
};

function refusal(keys: object): string {
  try {
    jobOf(keys);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message;
  }
  throw new Error('The job was taken.');
}

it('reads every key, in mm', () => {
  const { cloth, plan } = jobOf(FULL).job;
  expect(cloth).toMatchObject({
    widthMm: 1400,
    lengthMm: 30_000,
    sizes: 'finished',
    shrinkAlongPercent: 5,
    shrinkAcrossPercent: -0.5,
    direction: 'across',
    selvedgeLeftMm: 20,
    selvedgeRightMm: 15,
    startMm: 100,
    endMm: 50,
  });
  expect(plan).toEqual({
    start: 'in',
    fill: 'whole',
    align: 'centre',
    stepping: 'on',
    wipeEvery: 3,
    checkEvery: 4,
    faces: 'both',
    time: { secondsAPlacement: 60, dryingMinutes: 30, hoursADay: 6 },
    paste: { filmMm: 0.5, extraPercent: 25, densityGPerMl: 1.05 },
    wear: { placementsASheet: 300, daysASheet: 2 },
    order: { finishedMm: 12_000, wholeRepeats: true },
    panels: { count: 3, finishedMm: 2400 },
  });
});

it.each([{}, FULL, { cloth: { selvedge: '20mm' } }])('writes what it reads (%#)', (keys) => {
  const { job } = jobOf(keys);
  expect(readJob(newJobText(job), { file: 'leaf.okuri.json' }).job).toEqual(job);
});

it('takes one selvedge for both sides', () => {
  expect(jobOf({ cloth: { selvedge: '2cm' } }).job.cloth).toMatchObject({ selvedgeLeftMm: 20, selvedgeRightMm: 20 });
});

describe('refuses in one sentence', () => {
  it.each([
    [{ cloth: { shrinkAlong: 100 } }, /"cloth\.shrinkAlong" is 100 %: it must be from -50 to 90 %\.$/],
    [{ cloth: { shrinkAcross: 'little' } }, /"cloth\.shrinkAcross" must be "unknown" or a number of per cent/],
    [{ cloth: { selvedge: 20 } }, /"cloth\.selvedge" must be a length/],
    [{ cloth: { selvedge: { left: '-1mm' } } }, /"cloth\.selvedge\.left"/],
    [{ cloth: { width: '0mm' } }, /"cloth\.width" is 0 mm/],
    [{ plan: { wipeEvery: 0 } }, /"plan\.wipeEvery" is 0/],
    [{ plan: { hoursADay: 25 } }, /"plan\.hoursADay" is 25/],
    [{ plan: { film: '0mm' } }, /"plan\.film" is 0 mm/],
    [{ plan: { panels: { count: 0, finished: '1m' } } }, /"plan\.panels\.count" is 0/],
    [{ plan: { order: '12m' } }, /"plan\.order" must be "none", or a length/],
    [{ plan: { steping: 'on' } }, /did you mean "stepping"/],
    [{ plan: { stepping: 'wet' } }, /"plan\.stepping" must be one of every-other, on/],
  ])('%j', (keys, sentence) => {
    const message = refusal(keys);
    expect(message).toMatch(sentence);
    expect(message).not.toContain('\n');
  });
});
