import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import type { Job } from '../job-file/types.js';
import type { Motif, Shape } from '../motif/types.js';
import { InputError } from '../units/input-error.js';
import { clothPicture } from './drawings.js';
import { jobOf } from './leaf-job.test-help.js';
import type { JobResult } from './result.js';
import { runJob } from './run.js';
import { StageMemory } from './stage-memory.js';
import { STAGES, type StageName } from './stages.js';

const BLACK = '#000000';
const BLUE = '#0072b2';

function shape(id: string, ink: string, ...contours: Shape['contours']): Shape {
  return { id, ink, contours, rule: 'evenodd', clips: [] };
}

const box = (x0: number, y0: number, x1: number, y1: number) => boxContour({ x0, y0, x1, y1 });

/** A ring, two bars over the seams, two bars with a thin strip of paper between them, and a disc in another colour. */
const MOTIF: Motif = {
  frame: { widthMm: 120, heightMm: 90, from: 'page', assumedPpi: null },
  shapes: [
    shape('ring', BLACK, circleContour({ x: 40, y: 40 }, 15), circleContour({ x: 40, y: 40 }, 8)),
    shape('over the side', BLACK, box(100, 20, 130, 28)),
    shape('over the bottom', BLACK, box(80, 70, 88, 99)),
    shape('pair', BLACK, box(10, 70, 30, 74), box(10, 75.5, 30, 80)),
    shape('disc', BLUE, circleContour({ x: 80, y: 40 }, 9)),
  ],
  notices: [],
};

const { job: BASE } = jobOf({
  date: '2026-01-01',
  repeat: 'half-drop',
  cloth: { width: '400mm', length: '600mm' },
  ties: { [BLACK]: [{ id: 'T1', kind: 'printed', from: [48, 40], to: [55, 40] }] },
  numbers: { [BLACK]: [[1, 40, 40, 500]] },
});

/** Another value for every key of a job. */
const OTHER: Readonly<Record<string, unknown>> = {
  title: 'Another',
  motif: 'other.svg',
  fonts: ['a.ttf'],
  date: '2026-02-02',
  revision: 'B',
  'size.widthMm': 140,
  'size.heightMm': 100,
  repeat: { kind: 'straight', step: { p: 0, q: 1 } },
  across: 2,
  down: 2,
  spill: 'trim',
  drawn: 'cloth',
  method: 'direct',
  hairlines: 'line',
  paperColour: '#fffff0',
  cut: [BLACK],
  'joins.reachMm': 5,
  'joins.gapShare': 0.2,
  'joins.gapMinMm': 0.2,
  'joins.gapMaxMm': 1.5,
  'joins.kinkFineDeg': 7,
  'joins.kinkBroadDeg': 11,
  'joins.broadMm': 9,
  'hold.mode': 'crossing',
  'hold.widthMm': 20,
  lapMm: 0.2,
  'practice.hand': 'left',
  'practice.transfer': 'carbon',
  'practice.grain': 'upright',
  'practice.gauze': true,
  'practice.soak': false,
  punch: 'wet',
  punchesMm: [2, 18],
  movement: { alongPercent: 0.2, acrossPercent: 0.2 },
  'paper.kind': 'card',
  'paper.rules': { ...BASE.paper.rules, neckMm: 1, slitMm: 5 },
  'paper.tie': { ...BASE.paper.tie, widthMm: 2.5 },
  'double.on': true,
  'double.overlapMm': 0.5,
  'pace.mmPerMinute': 50,
  'pace.secondsPerCorner': 3,
  'pace.bladeMm': 900,
  'takenAt.ties': { widthMm: 110, heightMm: 82.5 },
  'takenAt.numbers': { widthMm: 110, heightMm: 82.5 },
  'takenAt.done': { widthMm: 110, heightMm: 82.5 },
  'takenAt.proof': { widthMm: 110, heightMm: 82.5 },
  ties: {},
  numbers: {},
  done: { [BLACK]: [1] },
  proof: { [BLACK]: [{ name: 'J1', mm: 0.3, turnDeg: 0, place: null }] },
  'sheet.borderMm': 45,
  'sheet.trailingMm': 55,
  'sheet.dotMm': 2,
  'sheet.sightDotMm': 5,
  'sheet.seat': true,
  'pages.paper': 'Letter',
  'pages.orientation': 'landscape',
  'pages.marginMm': 9,
  'pages.overlapMm': 12,
  'pages.mirror': true,
  'pages.skipBlank': false,
  'pages.scaleAcross': 1.01,
  'pages.scaleAlong': 1.01,
  'cloth.widthMm': 100,
  'cloth.lengthMm': 5000,
  'cloth.colour': '#eeeeee',
  'cloth.dye': '#111111',
  'cloth.seams': true,
  'cloth.dots': true,
  'cloth.findings': true,
  'cloth.sizes': 'finished',
  'cloth.shrinkAlongPercent': 3,
  'cloth.shrinkAcrossPercent': 3,
  'cloth.direction': 'across',
  'cloth.selvedgeLeftMm': 12,
  'cloth.selvedgeRightMm': 12,
  'cloth.startMm': 20,
  'cloth.endMm': 20,
  'plan.align': 'centre',
  'plan.fill': 'whole',
  'plan.start': 'in',
  'plan.stepping': 'on',
  'plan.wipeEvery': 5,
  'plan.checkEvery': 2,
  'plan.order': { finishedMm: 1000, wholeRepeats: true },
  'plan.panels': { count: 2, finishedMm: 800 },
  'plan.time': { secondsAPlacement: 50, dryingMinutes: 20, hoursADay: 5 },
  'plan.paste': { filmMm: 0.3, extraPercent: 30, densityGPerMl: 1.2 },
  'plan.wear': { placementsASheet: 30, daysASheet: 2 },
  'plan.faces': 'both',
};

const GROUPS = new Set(Object.keys(OTHER).flatMap((key) => (key.includes('.') ? [key.split('.')[0]] : [])));

function leaves(job: Job): string[] {
  return Object.entries(job).flatMap(([key, value]) =>
    GROUPS.has(key) ? Object.keys(value as object).map((part) => `${key}.${part}`) : [key],
  );
}

function changed(key: string): Job {
  const [top, part] = key.split('.') as [keyof Job, string | undefined];
  const value = part === undefined ? OTHER[key] : { ...(BASE[top] as object), [part]: OTHER[key] };
  return { ...BASE, [top]: value };
}

/** Everything that a result tells, as plain data. */
function told(result: JobResult): unknown {
  const or = <T>(read: () => T): T | string => {
    try {
      return read();
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  };
  const { job, joins, sheets, strength, kept, cutOut, strips, openings, findings, clothFindings, statements, inks } =
    result;
  const plain = {
    job,
    joins,
    sheets,
    strength,
    kept,
    cutOut,
    strips,
    openings,
    findings,
    clothFindings,
    statements,
    inks,
  };
  return JSON.parse(JSON.stringify([plain, or(() => result.plan), clothPicture(result)]));
}

/** The stages that hang on a key: those that read it, and all that take from them. */
function touchedBy(key: string): Set<StageName> {
  const touched = new Set<StageName>();
  const [top] = key.split('.');
  const names = Object.keys(STAGES) as StageName[];
  const reads = (name: StageName): boolean =>
    (STAGES[name].reads as readonly string[]).some((read) => read === key || read === top);
  // What `followSize` brings to another size is read after it, and what it reads of other sizes too.
  const places = ['takenAt.ties', 'takenAt.numbers'].includes(key) ? ['ties', 'numbers', 'otherNumbers'] : [];
  const marks = key.startsWith('takenAt.') ? ['done', 'proof'] : [];
  const moved = [...places, ...marks, ...(key === 'numbers' ? ['otherNumbers'] : [])];
  for (;;) {
    const before = touched.size;
    for (const name of names) {
      const from = STAGES[name].from as readonly string[];
      const own = reads(name) || moved.some((one) => (STAGES[name].reads as readonly string[]).includes(one));
      if (own || from.some((one) => touched.has(one as StageName))) touched.add(name);
    }
    if (touched.size === before) return touched;
  }
}

function ranStages(memory: StageMemory): StageName[] {
  return [...new Set(memory.takeLog().flatMap(({ stage, ran }) => (ran ? [stage] : [])))];
}

describe('the stages of a job', () => {
  it('are looked at for every key there is', () => {
    expect(Object.keys(OTHER).sort()).toEqual(leaves(BASE).sort());
  });

  const memory = new StageMemory();
  const cold = told(runJob(MOTIF, BASE, { memory }));
  const first = memory.takeLog().flatMap(({ stage, ran }) => (ran ? [stage] : []));

  it('run once each, and not again for the same job from a copy', () => {
    expect([...first].sort()).toEqual(
      Object.keys(STAGES)
        .filter((name) => name !== 'shares')
        .sort(),
    );
    expect(told(runJob(structuredClone(MOTIF), structuredClone(BASE), { memory }))).toEqual(cold);
    expect(ranStages(memory)).toEqual([]);
  });

  it.each(Object.keys(OTHER))(
    'run again for another %s only where they read it, and give what a cold run gives',
    (key) => {
      const memory = new StageMemory();
      told(runJob(MOTIF, BASE, { memory }));
      memory.takeLog();
      const job = changed(key);
      const warm = told(runJob(MOTIF, job, { memory }));
      const again = ranStages(memory);
      const touched = touchedBy(key);
      expect(again.filter((name) => !touched.has(name))).toEqual([]);
      expect(warm).toEqual(told(runJob(MOTIF, job)));
      // And back: what is kept of the job before is still right.
      expect(told(runJob(MOTIF, BASE, { memory }))).toEqual(cold);
    },
  );

  it('are none for a title, a date, a colour or the printer’s paper', () => {
    for (const key of ['title', 'date', 'revision', 'cloth.colour', 'cloth.dye', 'pages.paper']) {
      expect(touchedBy(key), key).toEqual(new Set());
    }
    const lengths = [...touchedBy('cloth.lengthMm')];
    expect(lengths).not.toContain('cut');
    expect(lengths).not.toContain('strength');
    expect(lengths).not.toContain('joins');
  });

  it('of the sheets are not needed for a picture of the cloth', () => {
    const once = new StageMemory({ keeps: false });
    const result = runJob(MOTIF, BASE, { memory: once });
    clothPicture(result);
    expect(result.clothFindings.length).toBeGreaterThan(0);
    expect(once.takeLog().map(({ stage }) => stage)).toEqual(
      expect.not.arrayContaining(['stencils', 'cut', 'necks', 'numbers', 'sheets', 'proof', 'strength', 'plan']),
    );
  });
});
