// Makes the studio's icons from packages/studio/public/icon.svg: pictures for systems that take no SVG, and favicon.ico. Run it after a change of the drawing.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';

const folder = fileURLToPath(new URL('../packages/studio/public/', import.meta.url));
const svg = readFileSync(`${folder}icon.svg`);

/** The side of the drawing's viewBox, px at 72 dpi. */
const DRAWN_PX = 64;

function picture(side) {
  return sharp(svg, { density: (72 * side) / DRAWN_PX })
    .resize(side, side)
    .png({ compressionLevel: 9, palette: true })
    .toBuffer();
}

/** A picture in an icon file: its header, one entry, and the picture as a PNG file. */
function icon(png, side) {
  const head = Buffer.alloc(22);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(1, 4);
  head.writeUInt8(side, 6);
  head.writeUInt8(side, 7);
  head.writeUInt16LE(1, 10);
  head.writeUInt16LE(32, 12);
  head.writeUInt32LE(png.length, 14);
  head.writeUInt32LE(head.length, 18);
  return Buffer.concat([head, png]);
}

for (const side of [180, 512]) writeFileSync(`${folder}icon-${side}.png`, await picture(side));
writeFileSync(`${folder}favicon.ico`, icon(await picture(32), 32));
