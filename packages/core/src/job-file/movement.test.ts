import { expect, it } from 'vitest';
import { findingsOf, jobOf, ran } from '../job/leaf-job.test-help.js';

it.each([
  [
    { along: 0.2, across: 1.5 },
    { alongPercent: 0.2, acrossPercent: 1.5 },
  ],
  [
    { along: { dry: '600mm', wet: '603mm' }, across: -0.3 },
    { alongPercent: 0.5, acrossPercent: -0.3 },
  ],
  ['unknown', null],
])('reads a movement of %j', (movement, expected) => {
  const { job } = jobOf({ movement });
  if (expected === null) expect(job.movement).toBeNull();
  else {
    expect(job.movement?.alongPercent).toBeCloseTo(expected.alongPercent, 12);
    expect(job.movement?.acrossPercent).toBeCloseTo(expected.acrossPercent, 12);
  }
});

it.each([
  [{ along: 11, across: 1 }, /"movement\.along" is 11 %: it must be from -10 to 10 %\./],
  [{ along: 1 }, /"movement" must be "unknown", or a group of "along" and "across"/],
  [{ along: { dry: '600mm', wet: '700mm' }, across: 1 }, /"movement\.along" can't be right: the movement of the paper/],
  [{ along: { dry: '5mm', wet: '5mm' }, across: 1 }, /"movement\.along\.dry" is 5 mm: it must be from 20 mm/],
  ['little', /"movement" must be "unknown"/],
])('refuses %j', (movement, message) => {
  expect(() => jobOf({ movement })).toThrow(message);
});

it('says what an unmeasured movement may do, unless the sheet stays dry', () => {
  const [unknown] = findingsOf({}).filter(({ code }) => code.startsWith('movement'));
  expect(unknown).toMatchObject({ code: 'movement-unknown', severity: 'look' });
  expect(unknown.message).toMatch(/0\.3 % makes this sheet 0\.4 mm wider and 0\.3 mm higher/);
  expect(findingsOf({ soak: false }).filter(({ code }) => code.startsWith('movement'))).toEqual([]);
});

it('turns the movement by the grain, and asks for the grain where it matters', () => {
  const movement = { along: 0.2, across: 1.5 };
  const of = (grain: string) => ran({ movement, grain }).sheets[0].register.movement;
  expect(of('upright')).toEqual({ widthPercent: 1.5, heightPercent: 0.2 });
  expect(of('level')).toEqual({ widthPercent: 0.2, heightPercent: 1.5 });
  expect(of('unknown')).toBeNull();
  expect(findingsOf({ movement })).toContainEqual(expect.objectContaining({ code: 'movement-grain', severity: 'fix' }));
  // Alike both ways, the grain is of no account.
  const alike = { movement: { along: 0.4, across: 0.4 } };
  expect(ran(alike).sheets[0].register.movement).toEqual({ widthPercent: 0.4, heightPercent: 0.4 });
  expect(findingsOf(alike)).toContainEqual(expect.objectContaining({ code: 'movement-allowed', severity: 'note' }));
  expect(ran({ ...alike, soak: false }).sheets[0].register.movement).toBeNull();
});

it('seats the dots of a job, and keeps them on the corners unless told', () => {
  const [plain, seated] = [ran({}), ran({ sheet: { seat: true } })].map(({ sheets }) => sheets[0]);
  expect(plain.register.seat).toBe('corners');
  expect(plain.dots.map(({ diameterMm }) => diameterMm)).toEqual([1, 1, 1.5, 1]);
  expect(seated.register.seat).toBe('openings');
  const by = { x: seated.dots[0].at.x - plain.dots[0].at.x, y: seated.dots[0].at.y - plain.dots[0].at.y };
  expect(Math.hypot(by.x, by.y)).toBeGreaterThan(0);
  seated.dots.forEach(({ at }, k) => {
    expect(at.x - plain.dots[k].at.x).toBeCloseTo(by.x, 9);
    expect(at.y - plain.dots[k].at.y).toBeCloseTo(by.y, 9);
  });
  // The measures of a rectangle don't change by moving it.
  for (const [k, { mm }] of seated.measures.entries()) expect(mm).toBeCloseTo(plain.measures[k].mm, 9);
});

it('says where selvedge dots need cloth', () => {
  const found = findingsOf({ sheet: { seat: true }, cloth: { width: '120mm' } });
  const [one] = found.filter(({ code }) => code.startsWith('dots-'));
  expect(one).toMatchObject({ code: 'dots-selvedge', severity: 'look', measure: { apartMm: 130, clothMm: 120 } });
  // With a selvedge on both sides there is room for them.
  const wide = { width: '140mm', selvedge: '10mm' };
  const { sheets, findings } = ran({ sheet: { seat: true }, cloth: wide });
  expect(sheets[0].register.seat).toBe('selvedge');
  expect(findings.filter(({ code }) => code.startsWith('dots-'))).toEqual([]);
});
