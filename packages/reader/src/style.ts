import type { Declared } from './cascade.js';
import { parseLength } from './length.js';

const INITIAL = {
  'clip-rule': 'nonzero',
  color: 'black',
  fill: 'black',
  'fill-opacity': '1',
  'fill-rule': 'nonzero',
  'font-family': 'sans-serif',
  'font-style': 'normal',
  'font-weight': 'normal',
  'letter-spacing': 'normal',
  'marker-end': 'none',
  'marker-mid': 'none',
  'marker-start': 'none',
  'paint-order': 'normal',
  stroke: 'none',
  'stroke-dasharray': 'none',
  'stroke-dashoffset': '0',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  'stroke-miterlimit': '4',
  'stroke-opacity': '1',
  'stroke-width': '1',
  'text-anchor': 'start',
  visibility: 'visible',
  'white-space': 'normal',
  'word-spacing': 'normal',
  'writing-mode': 'horizontal-tb',
} as const;

export type InheritedName = keyof typeof INITIAL;

/** Inherited values as written (resolved where they are used, as `currentColor` asks), and the font size in user units. */
export interface Style {
  readonly values: Readonly<Record<InheritedName, string>>;
  readonly custom: ReadonlyMap<string, string>;
  readonly fontSize: number;
}

export const INITIAL_STYLE: Style = { values: INITIAL, custom: new Map(), fontSize: 16 };

const FONT_SIZES: Readonly<Record<string, number>> = {
  'xx-small': 9.6,
  'x-small': 12,
  small: 14.2222,
  medium: 16,
  large: 19.2,
  'x-large': 24,
  'xx-large': 32,
};

/** The style of an element under its parent's. Values that are not understood are left to where they are used. */
export function inheritStyle(parent: Style, declared: Declared): Style {
  let values: Record<InheritedName, string> | null = null;
  let custom: Map<string, string> | null = null;
  let fontSize = parent.fontSize;
  for (const [name, value] of declared) {
    if (!name.startsWith('--')) continue;
    custom ??= new Map(parent.custom);
    custom.set(name, value);
  }
  const known = custom ?? parent.custom;
  const set = (name: InheritedName, value: string) => {
    const lower = value.toLowerCase();
    if (lower === 'inherit' || lower === 'unset' || lower === 'revert') return;
    values ??= { ...parent.values };
    values[name] = lower === 'initial' ? INITIAL[name] : value;
  };
  for (const [name, raw] of declared) {
    if (name === 'font-size') fontSize = readFontSize(withVariables(raw, known), parent.fontSize);
    else if (name === 'marker') for (const end of MARKERS) set(end, withVariables(raw, known));
    else if (name === 'font') {
      const short = /(?:^|\s)(\S+?)(?:\s*\/\s*\S+)?\s+((?:["'][^"']*["']|[^\s"'/]+)(?:\s*,.*)?)$/.exec(
        raw.slice(0, MAX_FONT_CHARS),
      );
      if (short === null) continue;
      fontSize = readFontSize(short[1], parent.fontSize);
      set('font-family', short[2]);
      set('font-weight', /\b(?:bold|[6-9]00)\b/.test(raw) ? 'bold' : 'normal');
      set('font-style', /\b(?:italic|oblique)\b/.test(raw) ? 'italic' : 'normal');
    } else if (Object.hasOwn(INITIAL, name)) set(name as InheritedName, withVariables(raw, known));
  }
  if (values === null && custom === null && fontSize === parent.fontSize) return parent;
  return { values: values ?? parent.values, custom: known, fontSize };
}

const MARKERS = ['marker-start', 'marker-mid', 'marker-end'] as const;
/** Rounds of replacing `var()` by its value: ends references that run in a circle. */
const MAX_VARIABLE_ROUNDS = 8;
const MAX_VARIABLE_CHARS = 10_000;
/** Characters of one variable: no colour or length is longer. */
const MAX_VARIABLE_VALUE = 200;
/** Characters of a `font` value that is looked into. */
const MAX_FONT_CHARS = 500;

/** Replaces `var(--name, fallback)`; a name that is not set and has no fallback gives the empty text. */
export function withVariables(value: string, custom: ReadonlyMap<string, string>): string {
  let out = value;
  for (let k = 0; k < MAX_VARIABLE_ROUNDS && out.includes('var(') && out.length < MAX_VARIABLE_CHARS; k++) {
    out = out.replace(
      /var\(\s*(--[^\s,()]+)\s*(?:,\s*((?:[^()]|\([^()]*\))*))?\)/g,
      (_all, name: string, other?: string) => {
        const found = custom.get(name);
        return (found !== undefined && found.length <= MAX_VARIABLE_VALUE ? found : other) ?? '';
      },
    );
  }
  return out.trim();
}

function readFontSize(text: string, parent: number): number {
  const value = text.trim().toLowerCase();
  if (Object.hasOwn(FONT_SIZES, value)) return FONT_SIZES[value];
  if (value === 'smaller') return parent / 1.2;
  if (value === 'larger') return parent * 1.2;
  const read = parseLength(value, { percent: parent, fontSize: parent });
  return read !== null && read >= 0 ? read : parent;
}
