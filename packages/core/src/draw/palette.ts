import type { Colour, LineStyle } from './types.js';

/**
 * The eight colours that people with any kind of colour vision tell apart: Okabe & Ito, Color Universal Design, 2008.
 */
export const COLOURS = {
  black: '#000000',
  orange: '#e69f00',
  skyBlue: '#56b4e9',
  green: '#009e73',
  yellow: '#f0e442',
  blue: '#0072b2',
  vermillion: '#d55e00',
  purple: '#cc79a7',
} as const satisfies Record<string, Colour>;

/** The paper of every drawing. */
export const PAPER: Colour = '#ffffff';
/** Under the waste: 20 % black, which every printer makes, and on which outlines and numbers stand out. */
export const WASTE_TINT: Colour = '#cccccc';
/** For words and rules that say nothing about cutting. */
export const GREY: Colour = '#595959';
/** For zones: large letters and thin outlines that step back behind what is cut. */
export const ZONE_GREY: Colour = '#808080';
/** Thin rules between rows of a table. */
export const RULE_GREY: Colour = '#b3b3b3';

/** What a line on a drawing can mean. Every meaning has its own dashes, so that it can be told without its colour. */
export type Meaning =
  | 'first-cut'
  | 'second-cut'
  | 'hold-line'
  | 'stop'
  | 'dot'
  | 'border'
  | 'seam'
  | 'leader'
  | 'zone'
  | 'done'
  | 'punch'
  | 'finding'
  | 'tie'
  | 'release-tie'
  | 'weak'
  | 'lead-edge'
  | 'full-stop';

/** A line that nobody may take for a cut is never solid and black at once. All lengths in mm at full size. */
const STYLES: Readonly<Record<Meaning, LineStyle>> = {
  'first-cut': { colour: COLOURS.black, widthMm: 0.25, join: 'round' },
  // Round dots: next to nothing long, with round ends.
  'second-cut': { colour: COLOURS.blue, widthMm: 0.45, dashMm: [0.02, 0.98], cap: 'round', join: 'round' },
  'hold-line': { colour: COLOURS.vermillion, widthMm: 0.8, dashMm: [8, 3], cap: 'butt' },
  stop: { colour: COLOURS.vermillion, widthMm: 1.2, cap: 'butt' },
  dot: { colour: COLOURS.green, widthMm: 0.2 },
  border: { colour: GREY, widthMm: 0.5, join: 'miter' },
  seam: { colour: COLOURS.purple, widthMm: 0.2, dashMm: [5, 1, 0.5, 1], cap: 'butt' },
  leader: { colour: GREY, widthMm: 0.15 },
  zone: { colour: ZONE_GREY, widthMm: 0.2, dashMm: [6, 1.5, 0.5, 1.5, 0.5, 1.5], cap: 'butt' },
  done: { colour: GREY, widthMm: 0.18 },
  punch: { colour: GREY, widthMm: 0.13 },
  finding: { colour: COLOURS.vermillion, widthMm: 0.5, dashMm: [1.5, 1], cap: 'butt' },
  tie: { colour: COLOURS.blue, widthMm: 0.9, cap: 'butt' },
  'release-tie': { colour: COLOURS.vermillion, widthMm: 0.55, cap: 'butt' },
  weak: { colour: COLOURS.vermillion, widthMm: 0.6, dashMm: [2, 0.7], cap: 'butt' },
  // No line is drawn for it.
  'full-stop': { colour: GREY, widthMm: 0.16 },
  'lead-edge': { colour: GREY, widthMm: 0.22, dashMm: [1.6, 0.8], cap: 'butt', join: 'round' },
};

/** On a reduced picture all lines are finer, or they would hide what they mark. */
const REDUCED = 0.6;

/**
 * The line of a meaning on a drawing that is seen at `scale` (1 is full size). Its widths and dashes are made for the page: those of full
 * size, and finer ones on a reduced picture.
 */
export function lineStyle(meaning: Meaning, { scale = 1 }: { scale?: number } = {}): LineStyle {
  const style = STYLES[meaning];
  if (scale === 1) return style;
  const by = (scale < 1 ? REDUCED : 1) / scale;
  const widthMm = style.widthMm * by;
  return style.dashMm ? { ...style, widthMm, dashMm: style.dashMm.map((d) => d * by) } : { ...style, widthMm };
}

/** The styles in words, for legends. */
export const MEANING_WORDS: Readonly<Record<Meaning, string>> = {
  'first-cut': 'first cut: thin solid outline; grey comes out',
  'second-cut': 'second cut: dotted outline, not grey, number in brackets; not yet, it waits for the proof',
  'hold-line': 'hold line: heavy long dashes',
  stop: 'stop: heavy bar where a first cut ends; no cut crosses it yet',
  dot: 'dots: ringed, with a letter; punched, not cut',
  border: 'edge of the paper: grey, upper left corner clipped',
  seam: 'edge of the design: thin dash and point; not cut',
  leader: 'thin grey line: leads from a number to its waste; not cut',
  zone: 'zone: thin dash and two points, corners bracketed, letter Z1, Z2, …; not cut',
  done: 'done: hatched, with a tick; cut before',
  punch: 'round hole with a cross: punch it, ø is the size of the punch in mm',
  finding: 'marks of findings: dashed ring with a number',
  tie: 'tie T1, T2, …: white between two heavy bars; it stays, never cut it',
  'release-tie': 'release tie R1, R2, …: white between two double bars; not yet, it waits for the release cut',
  weak: 'place to watch W1, W2, …; a weak one has a heavy dashed ring: stick a strip over it before cutting beyond',
  'full-stop': 'full stop after a number: it stands at the foot; upside down the number would read as another',
  'lead-edge': 'next placement: hatched, thin short dashes; it prints there, not a cut',
};
