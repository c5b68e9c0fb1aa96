import type { PlanPass, Schedule, TimedPass } from './plan-types.js';

export interface ScheduleOptions {
  readonly secondsAPlacement: number;
  readonly dryingMinutes: number;
  readonly hoursADay: number;
  readonly sheets: number;
  readonly faces: readonly ('front' | 'back')[];
}

/** A moment less than this before the end of a day is its end, minutes. */
const INSTANT_MINUTES = 1e-6;
const DAY_MINUTES = 24 * 60;

/**
 * When each pass is printed: one after the other, every pass begun when the one before has been dry for `dryingMinutes` after its last placement. Work
 * stops at the end of the day and goes on in the morning, cloth dries on overnight, and the first day begins dry. An estimate from its inputs.
 */
export function makeSchedule(passes: readonly PlanPass[], options: ScheduleOptions): Schedule {
  const { secondsAPlacement, dryingMinutes, hoursADay, sheets, faces } = options;
  const workday = hoursADay * 60;
  const timed: TimedPass[] = [];
  let day = 1;
  let minute = 0;
  for (const face of faces) {
    for (let sheet = 1; sheet <= sheets; sheet++) {
      for (const { pass, placements } of passes) {
        if (timed.length > 0) [day, minute] = atWork(day, minute + dryingMinutes, workday);
        const minutes = (placements * secondsAPlacement) / 60;
        const start = { startDay: day, startMinute: minute };
        [day, minute] = afterWork(day, minute, { minutes, workday });
        timed.push({ sheet, face, pass, minutes, ...start, endDay: day, endMinute: minute });
      }
    }
  }
  const mean = timed.reduce((sum, t) => sum + t.minutes, 0) / Math.max(1, timed.length);
  const inADay = Math.floor((workday + dryingMinutes) / (mean + dryingMinutes));
  return {
    secondsAPlacement,
    dryingMinutes,
    hoursADay,
    passes: timed,
    passesADay: timed.length === 0 ? 0 : mean <= workday ? inADay : workday / mean,
    days: timed.length === 0 ? 0 : day,
  };
}

/** The next moment of work at or after a moment that may lie after the day's end. */
function atWork(day: number, minute: number, workday: number): [number, number] {
  const later = Math.floor(minute / DAY_MINUTES);
  const rest = minute - later * DAY_MINUTES;
  return rest < workday - INSTANT_MINUTES ? [day + later, rest] : [day + later + 1, 0];
}

/** When work of so many minutes is done that begins at a moment of work. */
function afterWork(
  day: number,
  minute: number,
  { minutes, workday }: { minutes: number; workday: number },
): [number, number] {
  const total = minute + minutes;
  // Work that ends with the day ends on it.
  const days = Math.max(0, Math.ceil((total - INSTANT_MINUTES) / workday) - 1);
  return [day + days, total - days * workday];
}
