import { InputError } from '@okuri/core';
import type { INode } from 'svgson';
import type { Declared } from './cascade.js';
import { parseLength } from './length.js';
import { labelOf, own, type Place, type SvgReading } from './reading.js';

/** What a percentage is of: the viewport's width, its height, or its diagonal over √2 (SVG 2, 8.9). */
export type Axis = 'x' | 'y' | 'other';

export function percentBase(place: Place, axis: Axis): number {
  const { width, height } = place.view;
  if (axis === 'x') return width;
  return axis === 'y' ? height : Math.sqrt((width * width + height * height) / 2);
}

/**
 * A length of an element in user units; null where it is not given or `auto`. A value that is not understood counts as
 * not given, with a notice. Throws `InputError` for values that are not finite.
 */
export function measure(
  reading: SvgReading,
  node: INode,
  declared: Declared,
  place: Place,
  name: string,
  axis: Axis,
): number | null {
  // Attributes that are no styles (x1, dx, points …) are not in the cascade.
  const text = own(declared, place, name) ?? node.attributes[name];
  if (text === undefined || text.trim() === '' || text.trim() === 'auto') return null;
  const value = parseLength(text, { percent: percentBase(place, axis), fontSize: place.style.fontSize });
  if (value !== null && Number.isFinite(value)) return value;
  refuseEndless(text, name, labelOf(reading, node));
  reading.notices.add({
    code: 'value-not-understood',
    severity: 'look',
    message: `The ${name} "${text.slice(0, 40)}" of ${labelOf(reading, node)} is not understood and is left out of account.`,
    element: labelOf(reading, node),
  });
  return null;
}

/** Throws `InputError` where a text stands for a number that is not finite, as faulty exports write it. */
export function refuseEndless(text: string, name: string, element: string): void {
  if (/(?:^|[^a-z])(?:[+-]?nan|[+-]?inf(?:inity)?)(?![a-z])/i.test(text) || /\d[eE]\+?\d{3,}/.test(text)) {
    throw new InputError(
      `The ${name} of ${element} holds "${text.trim().slice(0, 24)}", which is no finite number: mend or delete that element in the drawing.`,
    );
  }
}
