import { expect, it } from 'vitest';
import { jobPlanDocument, jobPlanReport } from '../reports/plan-text.js';
import { ran } from './leaf-job.test-help.js';
import { jobPlanFindings, planOf } from './plan-of.js';

// The leaf's unit is 120 × 90 mm.

it('plans the job on its cloth', () => {
  const result = ran({ cloth: { width: '640mm', length: '950mm', selvedge: '20mm', start: '50mm' } });
  const plan = planOf(result);
  expect(plan).toMatchObject({ across: 5, along: 10, whole: 50, cut: 0 });
  expect(plan.cloth.usable).toEqual({ x0: 20, y0: 50, x1: 620, y1: 950 });
});

it('turns the sheet, follows the stepping and the estimates of the job', () => {
  const result = ran({
    cloth: { width: '450mm', length: '1.2m', direction: 'across' },
    plan: { stepping: 'on', wipeEvery: 7, loss: 0, film: '1mm', density: 2 },
  });
  const plan = planOf(result);
  expect(plan).toMatchObject({ direction: 'across', across: 5, along: 10 });
  expect(plan.choice).toMatchObject({ stepping: 'on', wipeEvery: 7 });
  const [ink] = plan.paste.inks;
  // 1 mm of film: 1 ml on 1000 mm², 50 times, and 2 g a ml.
  expect(ink.ml).toBeCloseTo((ink.openMm2 * 50) / 1000, 6);
  expect(ink.grams).toBeCloseTo(2 * ink.ml, 6);
});

it('says how large a unit has to be drawn for its finished size, and scales nothing', () => {
  const cloth = { width: '1m', length: '2m', sizes: 'finished', shrinkAlong: 10, shrinkAcross: 4 };
  const result = ran({ cloth });
  const plan = planOf(result);
  expect(plan.cloth.table.widthMm).toBeCloseTo(1000 / 0.96, 9);
  expect(plan.lattice).toMatchObject({ widthMm: 120, heightMm: 90 });
  const found = jobPlanFindings(result, plan).find(({ code }) => code === 'plan-drawn-size');
  expect(found?.severity).toBe('look');
  expect(found?.message).toContain('draw it 125 mm × 100 mm');
  expect(found?.measure).toMatchObject({ drawWidthMm: 125, drawHeightMm: 100 });
  const turned = ran({ cloth: { ...cloth, direction: 'across' } });
  const across = jobPlanFindings(turned, planOf(turned)).find(({ code }) => code === 'plan-drawn-size');
  expect(across?.measure).toMatchObject({ drawWidthMm: 120 / 0.9, drawHeightMm: 90 / 0.96 });
});

it('says nothing of it for sizes on the table, or where the cloth does not shrink', () => {
  for (const cloth of [{ shrinkAlong: 10 }, { sizes: 'finished' }, { sizes: 'finished', shrinkAlong: 0 }]) {
    const result = ran({ cloth });
    expect(jobPlanFindings(result, planOf(result)).map(({ code }) => code)).not.toContain('plan-drawn-size');
  }
});

it('reports and documents alike', () => {
  const result = ran({ cloth: { width: '600mm', length: '900mm' } });
  const plan = planOf(result);
  const report = jobPlanReport(result, plan);
  expect(report).toMatch(/^leaf\n/);
  expect(report).toContain('Placements: 50 (50 whole, 0 cut)');
  const document = jobPlanDocument(result, plan);
  expect(document.placements).toHaveLength(50);
  for (const { message } of document.findings) expect(report).toContain(message);
});
