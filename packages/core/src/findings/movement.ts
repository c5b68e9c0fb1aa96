import type { Finding } from '../motif/finding.js';
import { movementEffect, TOLD_PERCENT } from '../register/movement.js';
import type { SheetMovement, SquareTargets } from '../register/types.js';
import { formatMm } from '../units/format.js';
import { percentText } from '../units/words.js';

/** What to say of a sheet's paper: a `look` where its movement is not known, never a silent zero; a `note` where it is. */
export function movementFindings(sheet: SquareTargets, movement: SheetMovement | null): Finding[] {
  if (movement === null) {
    const effect = movementEffect(sheet, { widthPercent: TOLD_PERCENT, heightPercent: TOLD_PERCENT });
    return [
      {
        code: 'movement-unknown',
        topic: 'margin',
        severity: 'look',
        message: `How far the paper moves when it is soaked was not measured: a movement of ${TOLD_PERCENT} % makes this sheet ${formatMm(effect.widthMm, 1)} wider and ${formatMm(effect.heightMm, 1)} higher. It stays square, so joins still meet, but the repeat is as much larger: measure a strip dry and soaked, along the grain and across it.`,
        atMm: null,
        measure: { percent: TOLD_PERCENT, widthMm: effect.widthMm, heightMm: effect.heightMm },
      },
    ];
  }
  const effect = movementEffect(sheet, movement);
  return [
    {
      code: 'movement-allowed',
      topic: 'margin',
      severity: 'note',
      message: `Soaked, the sheet's width moves by ${percentText(movement.widthPercent)} (${formatMm(effect.widthMm, 1)}) and its height by ${percentText(movement.heightPercent)} (${formatMm(effect.heightMm, 1)}); dry measures allow for it.`,
      atMm: null,
      measure: { ...movement, widthMm: effect.widthMm, heightMm: effect.heightMm },
    },
  ];
}
