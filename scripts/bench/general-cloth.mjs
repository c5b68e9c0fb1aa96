// Draws an SVG to PNG by a general renderer, as a process of its own: FROM.svg TO.png WIDTH-IN-PX.
import { readFileSync, writeFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';

const [from, to, width] = process.argv.slice(2);
writeFileSync(
  to,
  new Resvg(readFileSync(from, 'utf8'), { fitTo: { mode: 'width', value: Number(width) } }).render().asPng(),
);
