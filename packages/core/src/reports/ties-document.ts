import { roundedData } from './rounded-data.js';
import type { TieList } from './tie-list.js';

/** The document of `ties --json`: plain data, the same from run to run. Lengths in mm, areas in mm², places in mm on the unit. */
export function tiesDocument({ ties, impossible }: TieList) {
  return roundedData({
    ties: ties.map((tie) => ({
      id: tie.id,
      kind: tie.kind,
      ink: tie.ink,
      stencil: tie.stencil,
      island: tie.island,
      opening: tie.opening,
      lengthMm: tie.lengthMm,
      widthMm: tie.widthMm,
      atMm: tie.atMm,
      hidden: tie.hidden,
      accepted: tie.accepted,
    })),
    impossible: impossible.map((one) => ({
      island: one.island,
      ink: one.ink,
      stencil: one.stencil,
      areaMm2: one.areaMm2,
      atMm: one.atMm,
      reason: one.reason,
    })),
  });
}

/** The shape of the document that `tiesDocument` makes. */
export type TiesDocument = ReturnType<typeof tiesDocument>;
