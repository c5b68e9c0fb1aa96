import { createHash } from 'node:crypto';
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

it('keeps a table: one more column, always of one name, with the seal in its first field', () => {
  const table = (content: string) => new TextDecoder().decode(seal('csv', bytes(content)));
  const rows = table('id,x_mm\r\nc1r1,30\r\nc1r2,330\r\n').split('\r\n');
  expect(rows[0]).toBe('id,x_mm,okuri_seal');
  expect(rows[1]).toMatch(/^c1r1,30,[0-9a-f]{64}$/);
  expect(rows.slice(2)).toEqual(['c1r2,330,', '']);
  // A table of nothing but its header holds no work that could be lost.
  expect(table('id,x_mm\r\n')).toBe('id,x_mm,okuri_seal\r\n');
  expect(isSealed('csv', bytes('id,x_mm,okuri_seal\r\n'))).toBe(true);
});

it('keeps records of a table whole whose fields are quoted', () => {
  // RFC 4180, 2: fields with line breaks, quotes and commas stand in quotes, and a quote within is doubled.
  const content = bytes('id,"said, by"\r\nc1,"two\r\nlines, ""so"" on"\r\nc2,\r\n');
  const sealed = seal('csv', content);
  expect(new TextDecoder().decode(sealed)).toMatch(
    /^id,"said, by",okuri_seal\r\nc1,"two\r\nlines, ""so"" on",[0-9a-f]{64}\r\nc2,,\r\n$/,
  );
  expect(isSealed('csv', sealed)).toBe(true);
  expect(isSealed('csv', content)).toBe(false);
});

it('knows a table of an older version again, whose column was named by the seal', () => {
  const content = 'id,x_mm\r\nc1r1,30\r\n';
  const own = createHash('sha256').update(content).digest('hex');
  expect(isSealed('csv', bytes(`id,x_mm,okuri-${own}\r\nc1r1,30,\r\n`))).toBe(true);
  expect(isSealed('csv', bytes(`id,x_mm,okuri-${own}\r\nc1r1,31,\r\n`))).toBe(false);
});

it('keeps the data of a JSON document', () => {
  const { okuriSeal, ...data } = JSON.parse(new TextDecoder().decode(seal('json', bytes('{"a":[1,2],"b":null}'))));
  expect(data).toEqual({ a: [1, 2], b: null });
  expect(okuriSeal).toMatch(/^[0-9a-f]{64}$/);
});
