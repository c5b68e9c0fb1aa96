/** What is set in a PNG file's header. */
export interface PngHeader {
  readonly pixelsPerMetre: readonly [x: number, y: number];
  /** Red, green, blue of each of 256 entries. Only for a file of 8-bit grey, which then counts entries. */
  readonly palette?: Uint8Array;
}

const SIGNATURE_LENGTH = 8;
const INDEXED_COLOUR = 3;
const PER_METRE = 1;

/**
 * A PNG file with its pixel size (`pHYs`) and palette (`PLTE`) replaced (PNG 1.2, 4.1.1, 4.1.2 and 4.2.4.2). Grey and indexed files of 8
 * bits store the same bytes, so that only the header tells them apart.
 */
export function withHeader(png: Uint8Array, header: PngHeader): Uint8Array {
  const parts: Uint8Array[] = [png.subarray(0, SIGNATURE_LENGTH)];
  const view = new DataView(png.buffer, png.byteOffset, png.byteLength);
  for (let at = SIGNATURE_LENGTH; at < png.length; ) {
    const end = at + 12 + view.getUint32(at);
    const type = String.fromCharCode(...png.subarray(at + 4, at + 8));
    const body = png.subarray(at + 8, end - 4);
    if (type === 'IHDR') parts.push(...headerChunks(body, header));
    else if (type !== 'pHYs' && type !== 'PLTE') parts.push(png.subarray(at, end));
    at = end;
  }
  return new Uint8Array(Buffer.concat(parts));
}

function headerChunks(body: Uint8Array, { pixelsPerMetre, palette }: PngHeader): Uint8Array[] {
  const size = new Uint8Array(9);
  const view = new DataView(size.buffer);
  view.setUint32(0, pixelsPerMetre[0]);
  view.setUint32(4, pixelsPerMetre[1]);
  size[8] = PER_METRE;
  const ihdr = body.slice();
  if (palette === undefined) return [chunk('IHDR', ihdr), chunk('pHYs', size)];
  if (ihdr[8] !== 8 || ihdr[9] !== 0) throw new Error('A palette can only be given to a file of 8-bit grey.');
  ihdr[9] = INDEXED_COLOUR;
  return [chunk('IHDR', ihdr), chunk('PLTE', palette), chunk('pHYs', size)];
}

function chunk(type: string, body: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(12 + body.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, body.length);
  for (let k = 0; k < 4; k++) bytes[4 + k] = type.charCodeAt(k);
  bytes.set(body, 8);
  view.setUint32(8 + body.length, checksum(bytes.subarray(4, 8 + body.length)));
  return bytes;
}

/** CRC-32 of a chunk's type and body (PNG 1.2, 3.4). The chunks written here are short, so no table is kept. */
function checksum(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
