import * as zlib from 'node:zlib';
import { expect, it } from 'vitest';
import { type FileKind, isSealed, seal } from './seal.js';

const crc32 = zlib.crc32 as typeof zlib.crc32 | undefined;
const bytes = (text: string) => new TextEncoder().encode(text);
// One grey pixel, written by hand after the PNG specification's chunk layout.
const png = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==',
  'base64',
);

const contents: [FileKind, Uint8Array][] = [
  ['svg', bytes('<svg xmlns="http://www.w3.org/2000/svg"/>\n')],
  ['pdf', bytes('%PDF-1.7\n%%EOF\n')],
  ['png', png],
  ['json', bytes('{"a":[1,2],"b":null}')],
  ['csv', bytes('id,x_mm\r\nc1r1,30\r\nc1r2,330\r\n')],
];

it.each(contents)('knows its own %s again, and only unchanged', (kind, content) => {
  const sealed = seal(kind, content);
  expect(isSealed(kind, sealed)).toBe(true);
  expect(isSealed(kind, content)).toBe(false);
  expect(isSealed(kind, new Uint8Array())).toBe(false);
  // A change of one byte of the content, and something written behind the end.
  const changed = Uint8Array.from(sealed);
  changed[4] ^= 1;
  expect(isSealed(kind, changed)).toBe(false);
  expect(isSealed(kind, Buffer.concat([sealed, bytes('x')]))).toBe(false);
});

it('puts a text chunk with a true checksum before the end of a PNG', () => {
  const sealed = Buffer.from(seal('png', png));
  const names: string[] = [];
  for (let at = 8; at < sealed.length; ) {
    const length = sealed.readUInt32BE(at);
    const body = sealed.subarray(at + 4, at + 8 + length);
    names.push(body.toString('latin1', 0, 4));
    // Node's own checksum, where this Node has one.
    if (crc32 !== undefined) expect(sealed.readUInt32BE(at + 8 + length)).toBe(crc32(body));
    at += 12 + length;
  }
  expect(names).toEqual(['IHDR', 'IDAT', 'tEXt', 'IEND']);
});

it('keeps a table: one more column, named by the seal and empty', () => {
  const rows = new TextDecoder().decode(seal('csv', bytes('id,x_mm\r\nc1r1,30\r\n'))).split('\r\n');
  expect(rows[0]).toMatch(/^id,x_mm,okuri-[0-9a-f]{64}$/);
  expect(rows.slice(1)).toEqual(['c1r1,30,', '']);
});

it('keeps the data of a JSON document', () => {
  const { okuriSeal, ...data } = JSON.parse(new TextDecoder().decode(seal('json', bytes('{"a":[1,2],"b":null}'))));
  expect(data).toEqual({ a: [1, 2], b: null });
  expect(okuriSeal).toMatch(/^[0-9a-f]{64}$/);
});
