import { describe, expect, it } from 'vitest';
import { makeSchedule } from './schedule.js';

const OPTIONS = { secondsAPlacement: 60, dryingMinutes: 120, hoursADay: 8, sheets: 1, faces: ['front'] as const };

function passes(...counts: number[]) {
  return counts.map((placements, k) => ({ pass: k + 1, placements, walkMm: 0 }));
}

describe('makeSchedule', () => {
  it('lets each pass dry before the next', () => {
    const { passes: timed, days, passesADay } = makeSchedule(passes(60, 60, 60), OPTIONS);
    expect(timed.map((t) => [t.startDay, t.startMinute, t.endMinute])).toEqual([
      [1, 0, 60],
      [1, 180, 240],
      [1, 360, 420],
    ]);
    expect(days).toBe(1);
    // 3 · 60 + 2 · 120 = 420 of 480 minutes; a fourth would need 600.
    expect(passesADay).toBe(3);
  });

  it('goes on in the morning, and cloth dries overnight', () => {
    const { passes: timed, days } = makeSchedule(passes(300, 300, 300), OPTIONS);
    expect(timed.map((t) => [t.startDay, t.startMinute, t.endDay, t.endMinute])).toEqual([
      [1, 0, 1, 300],
      // 420 to 480 on the first day, 240 minutes on the second.
      [1, 420, 2, 240],
      [2, 360, 3, 180],
    ]);
    expect(days).toBe(3);
  });

  it('has a part of a pass a day where one takes longer, and as many passes as sheets and faces ask for', () => {
    const long = makeSchedule(passes(960), { ...OPTIONS, sheets: 2, faces: ['front', 'back'] });
    expect(long.passesADay).toBe(0.5);
    expect(long.passes.map(({ face, sheet }) => `${face} ${sheet}`)).toEqual([
      'front 1',
      'front 2',
      'back 1',
      'back 2',
    ]);
    // Each ends with its second day and is dry by the next morning.
    expect(long.days).toBe(8);
  });

  it('waits for slow drying through the night', () => {
    // Dry 20 hours after minute 60: at minute 1260 of the first day, in the night.
    const { passes: timed } = makeSchedule(passes(60, 60, 60), { ...OPTIONS, dryingMinutes: 1200 });
    expect(timed.map((t) => [t.startDay, t.startMinute])).toEqual([
      [1, 0],
      [2, 0],
      [3, 0],
    ]);
    const slower = makeSchedule(passes(60, 60), { ...OPTIONS, dryingMinutes: 1500 });
    // Minute 1560 of the first day is minute 120 of the second.
    expect(slower.passes[1]).toMatchObject({ startDay: 2, startMinute: 120 });
  });

  it('has no days for no passes', () => {
    expect(makeSchedule([], OPTIONS)).toMatchObject({ days: 0, passesADay: 0, passes: [] });
  });
});
