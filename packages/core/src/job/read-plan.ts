import { LIMITS } from './limits.js';
import type { FilledJobFile } from './schema.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

type PlanClothKeys =
  | 'sizes'
  | 'direction'
  | 'shrinkAlongPercent'
  | 'shrinkAcrossPercent'
  | 'selvedgeLeftMm'
  | 'selvedgeRightMm'
  | 'startMm'
  | 'endMm';

/** What the plan has to know of the cloth beside its width and length. */
export function readPlanCloth(cloth: FilledJobFile['cloth'], values: Values): Pick<Job['cloth'], PlanClothKeys> {
  const shrinkage = (way: 'shrinkAlong' | 'shrinkAcross'): number | null => {
    const own = cloth[way];
    return own === 'unknown' ? null : values.number(`cloth.${way}`, own, LIMITS.shrinkPercent, ' %');
  };
  const { selvedge } = cloth;
  const side = (which: 'left' | 'right'): number =>
    typeof selvedge === 'string'
      ? values.length('cloth.selvedge', selvedge, LIMITS.selvedgeMm)
      : values.length(`cloth.selvedge.${which}`, selvedge[which], LIMITS.selvedgeMm);
  return {
    sizes: cloth.sizes,
    shrinkAlongPercent: shrinkage('shrinkAlong'),
    shrinkAcrossPercent: shrinkage('shrinkAcross'),
    direction: cloth.direction,
    selvedgeLeftMm: side('left'),
    selvedgeRightMm: side('right'),
    startMm: values.length('cloth.start', cloth.start, LIMITS.endMm),
    endMm: values.length('cloth.end', cloth.end, LIMITS.endMm),
  };
}

/** How the run is planned, with lengths in mm. */
export function readPlan(raw: FilledJobFile['plan'], values: Values): Job['plan'] {
  const { order, panels } = raw;
  return {
    start: raw.start,
    fill: raw.fill,
    align: raw.align,
    stepping: raw.stepping,
    wipeEvery: values.number('plan.wipeEvery', raw.wipeEvery, LIMITS.placements),
    checkEvery: values.number('plan.checkEvery', raw.checkEvery, LIMITS.placements),
    faces: raw.faces,
    time: {
      secondsAPlacement: values.number('plan.secondsAPlacement', raw.secondsAPlacement, LIMITS.secondsAPlacement),
      dryingMinutes: values.number('plan.dryingMinutes', raw.dryingMinutes, LIMITS.dryingMinutes),
      hoursADay: values.number('plan.hoursADay', raw.hoursADay, LIMITS.hoursADay),
    },
    paste: {
      filmMm: values.length('plan.film', raw.film, LIMITS.filmMm),
      extraPercent: values.number('plan.loss', raw.loss, LIMITS.extraPercent, ' %'),
      densityGPerMl: values.number('plan.density', raw.density, LIMITS.densityGPerMl, ' g/ml'),
    },
    wear: {
      placementsASheet:
        raw.sheetLasts === 'auto' ? null : values.number('plan.sheetLasts', raw.sheetLasts, LIMITS.placements),
      daysASheet: raw.sheetDays === 'auto' ? null : values.number('plan.sheetDays', raw.sheetDays, LIMITS.sheetDays),
    },
    order:
      order === 'none'
        ? null
        : {
            finishedMm: values.length('plan.order.finished', order.finished, LIMITS.finishedMm),
            wholeRepeats: order.wholeRepeats,
          },
    panels:
      panels === 'none'
        ? null
        : {
            count: values.number('plan.panels.count', panels.count, LIMITS.panels),
            finishedMm: values.length('plan.panels.finished', panels.finished, LIMITS.finishedMm),
          },
  };
}
