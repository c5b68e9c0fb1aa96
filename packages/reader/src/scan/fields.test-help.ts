/** A PNG with a chunk put in after its header, in place of its own of that name, or with the header's checksum made good where it was changed. */
export function pngWithChunk(bytes: Uint8Array, name: string | null, data: Uint8Array = new Uint8Array()): Uint8Array {
  const start = Uint8Array.from(bytes.subarray(0, 33));
  const at = Buffer.from(bytes).indexOf(name ?? 'none');
  const own =
    at < 0 ? null : { from: at - 4, to: at + 8 + new DataView(bytes.buffer, bytes.byteOffset).getUint32(at - 4) };
  const rest = own === null ? bytes.subarray(33) : joined(bytes.subarray(33, own.from), bytes.subarray(own.to));
  new DataView(start.buffer).setUint32(29, crc32(start.subarray(12, 29)));
  if (name === null) return joined(start, rest);
  const chunk = new Uint8Array(12 + data.length);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, data.length);
  chunk.set(
    [...name].map((c) => c.charCodeAt(0)),
    4,
  );
  chunk.set(data, 8);
  view.setUint32(8 + data.length, crc32(chunk.subarray(4, 8 + data.length)));
  return joined(start, chunk, rest);
}

/** A JPEG whose own `APP0` and `APP1` are taken out and which has the given segment in their place. */
export function jpegWithSegment(bytes: Uint8Array, marker: number, data: Uint8Array): Uint8Array {
  let at = 2;
  while (bytes[at] === 0xff && (bytes[at + 1] === 0xe0 || bytes[at + 1] === 0xe1)) {
    at += 2 + bytes[at + 2] * 256 + bytes[at + 3];
  }
  const length = data.length + 2;
  return joined(bytes.subarray(0, 2), Uint8Array.of(0xff, marker, length >> 8, length & 255), data, bytes.subarray(at));
}

/** A TIFF structure, most significant byte first: a directory of fractions over 1 (but for the unit, tag 296), and one of Exif where fields are given. */
export function tiffBlock(fields: readonly [number, number][], exif: readonly [number, number][] = []): Uint8Array {
  const all = exif.length === 0 ? fields : [...fields, [0x8769, 0] as const];
  const size = (n: number) => 2 + 12 * n + 4;
  const exifAt = 8 + size(all.length);
  const out = new Uint8Array(exifAt + size(exif.length) + 8 * (fields.length + exif.length));
  const view = new DataView(out.buffer);
  out.set([0x4d, 0x4d, 0, 42, 0, 0, 0, 8]);
  let free = exifAt + size(exif.length);
  const put = (at: number, list: readonly (readonly [number, number])[]) => {
    view.setUint16(at, list.length);
    list.forEach(([tag, value], k) => {
      const entry = at + 2 + 12 * k;
      const fraction = tag !== 296 && tag !== 0x8769;
      view.setUint16(entry, tag);
      view.setUint16(entry + 2, tag === 296 ? 3 : fraction ? 5 : 4);
      view.setUint32(entry + 4, 1);
      if (tag === 296) view.setUint16(entry + 8, value);
      else view.setUint32(entry + 8, tag === 0x8769 ? exifAt : free);
      if (!fraction) return;
      view.setUint32(free, value);
      view.setUint32(free + 4, 1);
      free += 8;
    });
  };
  put(8, all);
  if (exif.length > 0) put(exifAt, exif);
  return out;
}

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}

/** CRC-32 as PNG wants it (annex D of its specification), bit by bit. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}
