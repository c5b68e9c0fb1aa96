import colourNames from 'color-name';

/** A flat colour and how opaque it is, 0 to 1. */
export interface ReadColour {
  readonly hex: string;
  readonly alpha: number;
}

/**
 * The `#rrggbb` (lower case) of a CSS colour: a name, `#rgb`, `#rgba`, `#rrggbb`, `#rrggbbaa`, `rgb()`, `rgba()`,
 * `hsl()`, `hsla()`, `hwb()` with commas or blanks. How opaque it is does not show in the result. Null for `none`,
 * `transparent`, `currentColor` and all that is not understood.
 */
export function parseColour(text: string): string | null {
  return text.trim().toLowerCase() === 'transparent' ? null : (readColour(text)?.hex ?? null);
}

/** As `parseColour`, with the opacity; `transparent` is black with opacity 0. */
export function readColour(text: string): ReadColour | null {
  const value = text.trim().toLowerCase();
  if (value === 'transparent') return { hex: '#000000', alpha: 0 };
  if (value.startsWith('#')) return fromHex(value.slice(1));
  const call = /^([a-z]+)\(([^()]*)\)$/.exec(value);
  if (call !== null) return fromFunction(call[1], call[2]);
  if (!Object.hasOwn(colourNames, value)) return null;
  const named = colourNames[value as keyof typeof colourNames];
  return { hex: toHex(named.map((channel) => channel / 255)), alpha: 1 };
}

function fromHex(digits: string): ReadColour | null {
  if (!/^[0-9a-f]+$/.test(digits)) return null;
  const n = digits.length;
  const long = n === 3 || n === 4 ? [...digits].map((c) => c + c).join('') : digits;
  if (long.length !== 6 && long.length !== 8) return null;
  const alpha = long.length === 8 ? Number.parseInt(long.slice(6), 16) / 255 : 1;
  return { hex: `#${long.slice(0, 6)}`, alpha };
}

function fromFunction(name: string, inside: string): ReadColour | null {
  const parts = inside
    .trim()
    .split(/\s*[,/]\s*|\s+/)
    .filter((part) => part !== '');
  if (parts.length !== 3 && parts.length !== 4) return null;
  const alpha = parts.length === 4 ? scaled(parts[3], 1) : 1;
  if (alpha === null) return null;
  const rgb = channels(name, parts);
  return rgb === null ? null : { hex: toHex(rgb), alpha: clamp(alpha) };
}

function channels(name: string, parts: readonly string[]): readonly number[] | null {
  if (name === 'rgb' || name === 'rgba') {
    const rgb = parts.slice(0, 3).map((part) => scaled(part, 255));
    return rgb.some((value) => value === null) ? null : rgb.map((value) => clamp((value as number) / 255));
  }
  if (name !== 'hsl' && name !== 'hsla' && name !== 'hwb') return null;
  const hue = degrees(parts[0]);
  const second = share(parts[1]);
  const third = share(parts[2]);
  if (hue === null || second === null || third === null) return null;
  return name === 'hwb' ? fromHwb(hue, second, third) : fromHsl(hue, second, third);
}

/** CSS Color 4, "HSL colors". Hue in degrees, the others 0 to 1. */
function fromHsl(hue: number, saturation: number, lightness: number): readonly number[] {
  const a = saturation * Math.min(lightness, 1 - lightness);
  return [0, 8, 4].map((n) => {
    const k = (n + hue / 30) % 12;
    return lightness - a * Math.max(-1, Math.min(k - 3, 9 - k, 1));
  });
}

function fromHwb(hue: number, white: number, black: number): readonly number[] {
  if (white + black >= 1) return [0, 1, 2].map(() => white / (white + black));
  return fromHsl(hue, 1, 0.5).map((value) => value * (1 - white - black) + white);
}

function scaled(text: string, full: number): number | null {
  const value = Number(text.replace(/%$/, ''));
  if (text === '' || !Number.isFinite(value)) return null;
  return text.endsWith('%') ? (value / 100) * full : value;
}

function share(text: string): number | null {
  const value = Number(text.replace(/%$/, ''));
  return text === '' || !Number.isFinite(value) ? null : clamp(value / 100);
}

function degrees(text: string): number | null {
  const found = /^([+-]?[\d.]+(?:e[+-]?\d+)?)(deg|rad|grad|turn|)$/.exec(text);
  if (found === null) return null;
  const per = { deg: 1, '': 1, rad: 180 / Math.PI, grad: 0.9, turn: 360 }[found[2]] as number;
  const value = Number(found[1]) * per;
  return Number.isFinite(value) ? ((value % 360) + 360) % 360 : null;
}

function clamp(value: number): number {
  return Math.min(1, Math.max(0, value));
}

function toHex(rgb: readonly number[]): string {
  return `#${rgb
    .map((value) =>
      Math.round(value * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
}
