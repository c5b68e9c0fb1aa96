import { NO_OWNER } from '../../draw/clear-space.js';
import { emOfCap } from '../../draw/label-box.js';
import { GREY } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { Item } from '../../draw/types.js';
import { growBox, sharedBox } from '../../geometry/boxes.js';
import type { Sheet, Zone } from '../../stencil/types.js';
import { type NumberGround, numberBox } from './numbers.js';
import { insideSides } from './outlines.js';
import { type View, viewBox } from './view.js';

const ZONE_LETTER_CAP_MM = 5;

/** The letters of the neighbouring zones, where the picture shows a piece of them and there is free paper for it. */
export function neighbourLetters(sheet: Sheet, zone: Zone, view: View, { space, font, waste }: NumberGround): Item[] {
  return sheet.zones
    .filter((z) => z.letter !== zone.letter)
    .flatMap((z): Item[] => {
      const shared = sharedBox(z.box, view.window);
      if (!shared) return [];
      const box = viewBox(view, shared);
      const half = textWidthMm(z.letter, { sizeMm: emOfCap(ZONE_LETTER_CAP_MM, font), bold: true }, font) / 2;
      if (box.x1 - box.x0 < 2 * half + 2 || box.y1 - box.y0 < ZONE_LETTER_CAP_MM + 2) return [];
      for (let k = 0; k < 60; k++) {
        // Places spread over the piece in an even, repeatable order (multiples of the golden section).
        const at = {
          x: box.x0 + half + 1 + ((0.5 + k * 0.618034) % 1) * (box.x1 - box.x0 - 2 * half - 2),
          y:
            box.y0 +
            ZONE_LETTER_CAP_MM / 2 +
            1 +
            ((0.5 + k * 0.754878) % 1) * (box.y1 - box.y0 - ZONE_LETTER_CAP_MM - 2),
        };
        const taken = growBox(numberBox(at, z.letter, ZONE_LETTER_CAP_MM, font), 0.6);
        // On waste it would look like the waste's own name.
        if (!space.isClear(taken) || waste.some((w) => insideSides(w.sides(), at))) continue;
        space.addBox(taken, NO_OWNER);
        return [
          {
            kind: 'text',
            text: z.letter,
            x: at.x,
            y: at.y + ZONE_LETTER_CAP_MM / 2,
            sizeMm: emOfCap(ZONE_LETTER_CAP_MM, font),
            anchor: 'middle',
            bold: true,
            colour: GREY,
          },
        ];
      }
      return [];
    });
}
