import { Resvg } from '@resvg/resvg-js';

/** What an independent renderer (resvg) makes of an SVG text: the share of every pixel that is inked. */
export interface Coverage {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Sum of all pixels' coverage, px². */
  readonly inkPx2: number;
}

/** Renders an SVG text `widthPx` wide and adds up the ink. Transparent pixels hold none; colours are of no account. */
export function inkCoverage(svg: string, widthPx: number): Coverage {
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: widthPx }, font: { loadSystemFonts: false } }).render();
  // Every read of `pixels` copies the picture.
  const pixels = image.pixels;
  let sum = 0;
  for (let k = 3; k < pixels.length; k += 4) sum += pixels[k];
  return { widthPx: image.width, heightPx: image.height, inkPx2: sum / 255 };
}
