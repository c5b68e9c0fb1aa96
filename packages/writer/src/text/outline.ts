import type { TextItem } from '@okuri/core';
import { apply } from '@okuri/core/inside';
import type { NumberWriter } from '../shared/numbers.js';
import { layoutText } from './layout.js';

/** SVG path data of a text's outlines (filled by the non-zero rule), in the frame of the item, mm. Empty for blank text. */
export function textPathData(item: TextItem, num: NumberWriter): string {
  const { face, glyphs, matrix } = layoutText(item);
  const scale = item.sizeMm / face.metrics.unitsPerEm;
  let data = '';
  for (const { codePoint, x } of glyphs) {
    for (const { command, args } of face.font.glyphForCodePoint(codePoint).path.commands) {
      data += LETTERS[command];
      for (let k = 0; k + 1 < args.length; k += 2) {
        // Font units run upwards.
        const p = apply(matrix, { x: x + args[k] * scale, y: -args[k + 1] * scale });
        data += `${k === 0 ? '' : ' '}${num(p.x)} ${num(p.y)}`;
      }
    }
  }
  return data;
}

const LETTERS = { moveTo: 'M', lineTo: 'L', quadraticCurveTo: 'Q', bezierCurveTo: 'C', closePath: 'Z' } as const;
