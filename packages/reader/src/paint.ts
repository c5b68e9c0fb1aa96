import type { INode } from 'svgson';
import { type ReadColour, readColour } from './colour.js';
import { labelOf, type Place, type SvgReading } from './reading.js';

/** Steps along `href` from gradient to gradient. */
const MAX_GRADIENT_STEPS = 16;

/**
 * The ink of a `fill` or `stroke`, or null for none. Gradients and patterns are read as one flat colour, and opacity as
 * full ink, each with a notice.
 */
export function readPaint(reading: SvgReading, node: INode, place: Place, which: 'fill' | 'stroke'): string | null {
  const text = place.style.values[which].trim();
  const element = labelOf(reading, node);
  const found = colourOf(reading, element, place, which, text);
  if (found === null || found.alpha <= 0) return null;
  const opacity = readOpacity(place.style.values[`${which}-opacity`]) * found.alpha;
  if (opacity <= 0) return null;
  if (opacity < 1) noteOpacity(reading, element, `the ${which}`, opacity);
  return found.hex;
}

/** An opacity, 0 to 1; what is not understood counts as 1. */
export function readOpacity(text: string | undefined): number {
  if (text === undefined || text.trim() === '') return 1;
  const value = text.trim().endsWith('%') ? Number(text.trim().slice(0, -1)) / 100 : Number(text);
  return Number.isFinite(value) ? Math.min(1, Math.max(0, value)) : 1;
}

export function noteOpacity(reading: SvgReading, element: string, what: string, opacity: number): void {
  reading.notices.add({
    code: 'opacity-read-as-full',
    severity: 'look',
    message: `The opacity ${Number(opacity.toFixed(3))} of ${what} of ${element} is read as full ink: a stencil has no half tones.`,
    element,
  });
}

function colourOf(
  reading: SvgReading,
  element: string,
  place: Place,
  which: 'fill' | 'stroke',
  text: string,
): ReadColour | null {
  const lower = text.toLowerCase();
  if (lower === 'none') return null;
  if (lower === 'currentcolor') return readColour(place.style.values.color) ?? { hex: '#000000', alpha: 1 };
  const link = /^url\(\s*["']?([^"')]*)["']?\s*\)\s*(.*)$/s.exec(text);
  if (link !== null) return serverColour(reading, element, place, which, link[1], link[2].trim());
  const plain = readColour(text.replace(/\s+(?:icc-color|device-\w+)\(.*$/i, ''));
  if (plain !== null) return plain;
  const kind = lower.startsWith('context-') ? 'has no meaning outside a marker' : 'is not understood';
  reading.notices.add({
    code: 'paint-not-understood',
    severity: 'look',
    message: `The ${which} "${text.slice(0, 40)}" of ${element} ${kind}: it is read as ${which === 'fill' ? 'black' : 'none'}.`,
    element,
  });
  return which === 'fill' ? { hex: '#000000', alpha: 1 } : null;
}

function serverColour(
  reading: SvgReading,
  element: string,
  place: Place,
  which: string,
  href: string,
  fallback: string,
): ReadColour | null {
  const server = reading.byId.get(href.replace(/^#/, ''));
  const other = fallback.toLowerCase() === 'currentcolor' ? readColour(place.style.values.color) : readColour(fallback);
  const note = (code: string, said: string) => {
    reading.notices.add({ code, severity: 'look', message: `The ${which} of ${element} ${said}.`, element });
  };
  if (server === undefined) {
    const reading_ = other === null ? 'none' : other.hex;
    note('paint-missing', `refers to "${href.slice(0, 60)}", which is not in the drawing: it is read as ${reading_}`);
    return other;
  }
  if (server.name === 'linearGradient' || server.name === 'radialGradient') {
    const colour = firstStop(reading, server, place) ?? other ?? { hex: '#000000', alpha: 1 };
    note('gradient-read-flat', `is a gradient: it is read as the flat colour of its first stop, ${colour.hex}`);
    return { hex: colour.hex, alpha: 1 };
  }
  const colour = other ?? { hex: '#000000', alpha: 1 };
  const kind = server.name === 'pattern' ? 'a pattern' : `<${server.name}>`;
  note('pattern-read-flat', `is ${kind}, which can't be cut as such: it is read as the flat colour ${colour.hex}`);
  return { hex: colour.hex, alpha: 1 };
}

function firstStop(reading: SvgReading, gradient: INode, place: Place): ReadColour | null {
  let at: INode | undefined = gradient;
  for (let k = 0; at !== undefined && k < MAX_GRADIENT_STEPS; k++) {
    const stop = at.children.find((child) => child.name === 'stop');
    if (stop !== undefined) {
      const text = reading.cascade.declared(stop).get('stop-color') ?? 'black';
      return readColour(text.toLowerCase() === 'currentcolor' ? place.style.values.color : text);
    }
    const href: string = at.attributes.href ?? at.attributes['xlink:href'] ?? '';
    at = reading.byId.get(href.replace(/^#/, ''));
  }
  return null;
}
