/** Numbers of the fields of one directory of a TIFF file or of an Exif block, by tag. Fields of other types are left out. */
export type TiffFields = ReadonlyMap<number, readonly number[]>;

/** A directory with more fields is broken: cameras write some 60. */
const MAX_FIELDS = 4_096;
/** Values of one field that are read: those that matter here have one. */
const MAX_VALUES = 4;

/** Field types that hold whole numbers or fractions, with their sizes in bytes (TIFF 6.0 section 2; 16 is BigTIFF's LONG8). */
const SIZES: Readonly<Record<number, number>> = { 3: 2, 4: 4, 5: 8, 16: 8 };
const SHORT = 3;
const LONG = 4;
const RATIONAL = 5;

/** A TIFF structure whose directories can be read one by one. */
export interface TiffBlock {
  /** The first directory. */
  readonly first: TiffFields;
  /** The directory at an offset, such as that which a field points to; empty where there is none. */
  at(offset: number): TiffFields;
}

/**
 * The numbers of the first directory of a TIFF structure (TIFF 6.0 section 2, and BigTIFF): a TIFF file, or the Exif block of another file. Null
 * where the bytes don't begin like one. Fields that reach past the end are left out: what is broken is judged by the decoder.
 */
export function readTiffBlock(bytes: Uint8Array): TiffBlock | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 8) return null;
  const order = view.getUint16(0);
  if (order !== 0x4949 && order !== 0x4d4d) return null;
  const little = order === 0x4949;
  const version = view.getUint16(2, little);
  if (version !== 42 && version !== 43) return null;
  const big = version === 43;
  const at = (offset: number) => readDirectory(view, offset, { little, big });
  const first = big ? (bytes.length < 16 ? 0 : Number(view.getBigUint64(8, little))) : view.getUint32(4, little);
  return { first: at(first), at };
}

interface Layout {
  readonly little: boolean;
  readonly big: boolean;
}

function readDirectory(view: DataView, offset: number, { little, big }: Layout): TiffFields {
  const fields = new Map<number, number[]>();
  const countBytes = big ? 8 : 2;
  if (!(offset > 0) || offset + countBytes > view.byteLength) return fields;
  const count = big ? Number(view.getBigUint64(offset, little)) : view.getUint16(offset, little);
  const entryBytes = big ? 20 : 12;
  for (let k = 0; k < Math.min(count, MAX_FIELDS); k++) {
    const entry = offset + countBytes + k * entryBytes;
    if (entry + entryBytes > view.byteLength) break;
    const type = view.getUint16(entry + 2, little);
    const size = SIZES[type];
    if (size === undefined) continue;
    const values = big ? Number(view.getBigUint64(entry + 4, little)) : view.getUint32(entry + 4, little);
    const place = entry + (big ? 12 : 8);
    const inline = values * size <= (big ? 8 : 4);
    const from = inline ? place : big ? Number(view.getBigUint64(place, little)) : view.getUint32(place, little);
    const taken = Math.min(values, MAX_VALUES);
    if (from + taken * size > view.byteLength) continue;
    fields.set(
      view.getUint16(entry, little),
      Array.from({ length: taken }, (_, n) => readNumber(view, from + n * size, type, little)),
    );
  }
  return fields;
}

function readNumber(view: DataView, at: number, type: number, little: boolean): number {
  switch (type) {
    case SHORT:
      return view.getUint16(at, little);
    case LONG:
      return view.getUint32(at, little);
    case RATIONAL:
      return view.getUint32(at, little) / view.getUint32(at + 4, little);
    default:
      return Number(view.getBigUint64(at, little));
  }
}
