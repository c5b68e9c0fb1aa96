import type { Matrix } from '@okuri/core';
import { IDENTITY, multiply, translation } from '@okuri/core/inside';
import { parseLength } from './length.js';

const FUNCTION = /^\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)/;
const RADIANS: Readonly<Record<string, number>> = {
  '': Math.PI / 180,
  deg: Math.PI / 180,
  rad: 1,
  grad: Math.PI / 200,
  turn: 2 * Math.PI,
};

/**
 * The matrix of a `transform` attribute or property: matrix, translate, scale, rotate (about a point too), skewX, skewY,
 * skew and their one-axis forms; angles in degrees or with a unit, lengths in user units or with an absolute one.
 * Null where the list can't be read. `none` and an empty list are the identity.
 */
export function parseTransform(text: string): Matrix | null {
  let rest = text.trim();
  if (rest === 'none') return IDENTITY;
  let out: Matrix = IDENTITY;
  while (rest !== '') {
    const found = FUNCTION.exec(rest);
    if (found === null) return null;
    const step = oneFunction(found[1].toLowerCase(), splitArguments(found[2]));
    if (step === null || !step.every(Number.isFinite)) return null;
    out = multiply(out, step);
    rest = rest.slice(found[0].length).trim();
  }
  return out;
}

/** Multiplies by a move there and back, so that `m` turns about the point. */
export function aboutPoint(m: Matrix, x: number, y: number): Matrix {
  return multiply(multiply(translation(x, y), m), translation(-x, -y));
}

function splitArguments(text: string): string[] {
  // A sign may part two numbers: `matrix(1-0 0 1 0 0)` is written by some tools.
  return text.match(/[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?[A-Za-z%]*|[^\s,]+/g) ?? [];
}

function oneFunction(name: string, args: readonly string[]): Matrix | null {
  const n = args.length;
  if (name === 'matrix') {
    const v = args.map(length);
    return n === 6 ? (v as unknown as Matrix) : null;
  }
  if (name === 'translate')
    return n === 1 || n === 2 ? translation(length(args[0]), n === 2 ? length(args[1]) : 0) : null;
  if (name === 'translatex') return n === 1 ? translation(length(args[0]), 0) : null;
  if (name === 'translatey') return n === 1 ? translation(0, length(args[0])) : null;
  if (name === 'scale') return n === 1 || n === 2 ? [factor(args[0]), 0, 0, factor(args[n - 1]), 0, 0] : null;
  if (name === 'scalex') return n === 1 ? [factor(args[0]), 0, 0, 1, 0, 0] : null;
  if (name === 'scaley') return n === 1 ? [1, 0, 0, factor(args[0]), 0, 0] : null;
  if (name === 'rotate' || name === 'rotatez') {
    if (n !== 1 && n !== 3) return null;
    const turned = rotation(angle(args[0]));
    return n === 3 ? aboutPoint(turned, length(args[1]), length(args[2])) : turned;
  }
  if (name === 'skewx') return n === 1 ? [1, 0, Math.tan(angle(args[0])), 1, 0, 0] : null;
  if (name === 'skewy') return n === 1 ? [1, Math.tan(angle(args[0])), 0, 1, 0, 0] : null;
  if (name === 'skew') {
    return n === 1 || n === 2 ? [1, n === 2 ? Math.tan(angle(args[1])) : 0, Math.tan(angle(args[0])), 1, 0, 0] : null;
  }
  return null;
}

/** Quarter turns are exact: a unit's frame turned by 90° must stay upright. */
function rotation(radians: number): Matrix {
  const quarters = radians / (Math.PI / 2);
  const whole = Math.round(quarters);
  if (Math.abs(quarters - whole) < 1e-12) {
    const [c, s] = [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ][((whole % 4) + 4) % 4];
    return [c, s, -s, c, 0, 0];
  }
  return [Math.cos(radians), Math.sin(radians), -Math.sin(radians), Math.cos(radians), 0, 0];
}

function length(text: string): number {
  return parseLength(text, { percent: null, fontSize: 16 }) ?? Number.NaN;
}

function factor(text: string): number {
  return text.endsWith('%') ? Number(text.slice(0, -1)) / 100 : Number(text);
}

function angle(text: string): number {
  const found = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)([A-Za-z]*)$/.exec(text);
  const unit = found === null ? undefined : RADIANS[found[2].toLowerCase()];
  return found === null || unit === undefined ? Number.NaN : Number(found[1]) * unit;
}
