import { createHash } from 'node:crypto';

/** The kinds of file that the command writes. `job` is a person's own from the start: it has no seal. */
export type FileKind = 'pdf' | 'svg' | 'png' | 'json' | 'csv' | 'job';

const MARK = 'okuri';
/** Key of the seal in a JSON file. */
const JSON_KEY = 'okuriSeal';
/** Keyword of the seal in a PNG's text chunk. */
const PNG_KEYWORD = 'okuri-seal';
const PNG_END_BYTES = 12;
/** Ends of records in a table (RFC 4180). */
const CSV_END = '\r\n';
/** Name of the last column of a table, in which the seal stands: RFC 4180 knows no remarks. */
const CSV_COLUMN = 'okuri_seal';

/**
 * The file with a seal: a digest of its own content, where the format keeps remarks (a comment after the end of an SVG or PDF, a
 * text chunk of a PNG, the last key of a JSON document, the first field of a last column of a table). A sealed file is one that this tool wrote and nobody has changed since,
 * so it may be written again; a drawing that somebody went on working on has lost its seal and is kept.
 */
export function seal(kind: FileKind, content: Uint8Array): Uint8Array {
  switch (kind) {
    case 'job':
      return content;
    case 'svg':
      return joined(content, text(`<!-- ${MARK} ${digest(content)} -->\n`));
    case 'pdf':
      return joined(content, text(`%${MARK} ${digest(content)}\n`));
    case 'png': {
      const body = content.subarray(0, content.length - PNG_END_BYTES);
      return joined(body, textChunk(PNG_KEYWORD, digest(body)), content.subarray(body.length));
    }
    case 'csv': {
      return withColumn(content, [CSV_COLUMN, digest(content)]);
    }
    case 'json': {
      const data = JSON.parse(new TextDecoder().decode(content));
      return text(`${JSON.stringify({ ...data, [JSON_KEY]: digest(text(JSON.stringify(data))) }, null, 2)}\n`);
    }
  }
}

/** Whether the bytes are a sealed file, unchanged since. */
export function isSealed(kind: FileKind, bytes: Uint8Array): boolean {
  switch (kind) {
    case 'job':
      return false;
    case 'svg':
      return endsWithDigest(bytes, `<!-- ${MARK} `, ' -->\n');
    case 'pdf':
      return endsWithDigest(bytes, `%${MARK} `, '\n');
    case 'png': {
      const chunk = textChunk(PNG_KEYWORD, digest(new Uint8Array())).length;
      const body = bytes.subarray(0, Math.max(0, bytes.length - PNG_END_BYTES - chunk));
      const rest = bytes.subarray(body.length, bytes.length - PNG_END_BYTES);
      return body.length > 0 && Buffer.compare(rest, textChunk(PNG_KEYWORD, digest(body))) === 0;
    }
    case 'csv': {
      const content = withoutColumn(bytes);
      if (content === null) return false;
      // Tables of versions before 0.4 had the seal in the name of the column.
      const ours = [seal('csv', content), withColumn(content, [`${MARK}-${digest(content)}`])];
      return ours.some((own) => Buffer.compare(bytes, own) === 0);
    }
    case 'json': {
      try {
        const { [JSON_KEY]: found, ...data } = JSON.parse(new TextDecoder().decode(bytes));
        return found === digest(text(JSON.stringify(data)));
      } catch {
        return false;
      }
    }
  }
}

/** A table with one more column: these fields from its header on, empty ones in all other records. */
function withColumn(content: Uint8Array, fields: readonly string[]): Uint8Array {
  const records = csvRecords(new TextDecoder().decode(content));
  return text(records.map((record, k) => `${record},${fields[k] ?? ''}${CSV_END}`).join(''));
}

/** A table without its last column; null where some record has no second one, or its last field is quoted. */
function withoutColumn(bytes: Uint8Array): Uint8Array | null {
  const records = csvRecords(new TextDecoder().decode(bytes));
  const bare = records.map((record) => /^(.*),[^",]*$/s.exec(record)?.[1]);
  return records.length === 0 || bare.includes(undefined) ? null : text(bare.map((one) => `${one}${CSV_END}`).join(''));
}

/** The records of a table without their ends. An end within quotes belongs to its field. */
function csvRecords(table: string): string[] {
  const records = [...table.matchAll(/((?:"(?:[^"]|"")*"|(?!\r\n)[^"])*)(?:\r\n|$)/g)].map(([, record]) => record);
  return records.filter((record) => record !== '');
}

function endsWithDigest(bytes: Uint8Array, before: string, after: string): boolean {
  const tail = before.length + digest(new Uint8Array()).length + after.length;
  const content = bytes.subarray(0, Math.max(0, bytes.length - tail));
  return Buffer.compare(bytes.subarray(content.length), text(`${before}${digest(content)}${after}`)) === 0;
}

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** A `tEXt` chunk (PNG specification, third edition, 11.3.3.2: keyword, a zero, Latin-1 text). */
function textChunk(keyword: string, value: string): Uint8Array {
  const typeAndData = joined(text('tEXt'), text(keyword), new Uint8Array(1), text(value));
  const chunk = Buffer.alloc(typeAndData.length + 8);
  chunk.writeUInt32BE(typeAndData.length - 4, 0);
  chunk.set(typeAndData, 4);
  chunk.writeUInt32BE(crc32(typeAndData), typeAndData.length + 4);
  return chunk;
}

/** CRC-32 as PNG wants it (annex D of its specification), bit by bit: a chunk here is short. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

function text(string: string): Uint8Array {
  return new TextEncoder().encode(string);
}

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  return Buffer.concat(parts);
}
