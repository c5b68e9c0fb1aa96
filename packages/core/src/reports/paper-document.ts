import type { Box, Point } from '../geometry/types.js';
import type { JudgedSheet } from '../stencil/types.js';
import type { NarrowPlace } from '../strength/types.js';

/**
 * What is known of a sheet's paper as plain data: lengths in mm, areas in mm², shares from 0 to 1, places in mm from the upper left of the
 * design field.  Of the work, minutes and blades are estimates.
 */
export function paperDocument({ paper, field, openings }: Pick<JudgedSheet, 'paper' | 'field' | 'openings'>) {
  const at = ({ x, y }: Point): Point => ({ x: x - field.x0, y: y - field.y0 });
  const box = ({ x0, y0, x1, y1 }: Box): Box => ({
    x0: x0 - field.x0,
    y0: y0 - field.y0,
    x1: x1 - field.x0,
    y1: y1 - field.y0,
  });
  const narrow = ({ widthMm, atMm, lengthMm }: NarrowPlace) => ({ widthMm, atMm: at(atMm), lengthMm });
  return {
    groundCut: paper.groundCut,
    islands: paper.islands.map((island) => ({
      id: island.id,
      areaMm2: island.areaMm2,
      boxMm: box(island.box),
      dropsAt: island.dropsAt,
    })),
    necks: paper.necks.map((neck) => ({ ...narrow(neck), weak: neck.weak, hangsMm2: neck.hangsMm2 })),
    slits: paper.slits.map(narrow),
    tongues: paper.tongues.map(({ rootMm, lengthMm, tip }) => ({ rootMm, lengthMm, atMm: at(tip) })),
    longOpenings: paper.longOpenings.map((long) => ({ lengthMm: long.lengthMm, atMm: at(long.at) })),
    cutAwayShare: paper.cutAway.share,
    weakestBand: { share: paper.cutAway.bandShare, boxMm: box(paper.cutAway.weakestBand) },
    cutLengthMm: paper.work.lengthMm,
    work: {
      corners: paper.work.corners,
      tightMm: paper.work.tightMm,
      tightPlaces: paper.work.tightPlaces,
      jerks: paper.work.jerks,
      minutesEstimate: paper.work.minutes,
      bladesEstimate: paper.work.blades,
      openings: paper.workOf.map(({ lengthMm, corners, tightPlaces, jerks }, k) => ({
        number: openings[k]?.number ?? null,
        lengthMm,
        corners,
        tightPlaces,
        jerks,
      })),
    },
  };
}
