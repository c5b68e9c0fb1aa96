import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { runCommand } from '@okuri/cli';
import { contoursBox } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { decodeScan } from '@okuri/reader/scan';
import { framePicture, motifFromTrace, traceImage } from '@okuri/scan';
import { Resvg } from '@resvg/resvg-js';
import sharp, { type Sharp } from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MAIN, okuri } from './support/command.js';

// From a picture file to a motif by the whole command. Drawings are rendered by resvg, which the project does not draw with.
const DPI = 300;
/** 720 by 600 px. */
const [WIDTH_MM, HEIGHT_MM] = [60.96, 50.8];

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-trace-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string) => join(folder, name);
const put = (name: string, content: string | Uint8Array) => writeFileSync(at(name), content);
const files = () => readdirSync(folder).sort();

async function here(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const texts = { out: '', err: '' };
  const standing = process.cwd();
  process.chdir(folder);
  try {
    const code = await runCommand(args, {
      out: (text) => {
        texts.out += text;
      },
      err: (text) => {
        texts.err += text;
      },
      errIsTerminal: false,
    });
    return { ...texts, code };
  } finally {
    process.chdir(standing);
  }
}

const LEAF = '<path d="M20 24C26 12 40 12 46 24C40 36 26 36 20 24Z"/>';
const RING = '<circle cx="12" cy="40" r="6" fill="none" stroke="#000" stroke-width="2"/>';
const DUST =
  '<circle cx="50" cy="8" r="0.2"/><circle cx="5" cy="8" r="0.25"/><circle cx="33" cy="24" r="0.3" fill="#fff"/>';

/** A drawing on white paper as grey values. */
function drawn(inner: string, { widthMm = WIDTH_MM, heightMm = HEIGHT_MM, dpi = DPI, paper = '#fff' } = {}): Sharp {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${widthMm} ${heightMm}"><rect width="${widthMm}" height="${heightMm}" fill="${paper}"/>${inner}</svg>`;
  const width = Math.round((widthMm / 25.4) * dpi);
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: width } }).render();
  return sharp(image.pixels, { raw: { width: image.width, height: image.height, channels: 4 } })
    .removeAlpha()
    .toColourspace('b-w');
}

/** The same as a file that states its resolution, or none. */
const scan = (inner: string, options: Parameters<typeof drawn>[1] & { stated?: boolean } = {}) => {
  const picture = drawn(inner, options);
  return (options.stated === false ? picture : picture.withMetadata({ density: DPI })).png().toBuffer();
};
const boxes = (name: string) => {
  const motif = readSvg(readFileSync(at(name)));
  return { frame: motif.frame, boxes: motif.shapes.map(({ contours }) => contoursBox(contours)), motif };
};

describe('a scan that states its resolution', () => {
  it('becomes an SVG in mm, and everything about it is said', async () => {
    put('leaf.png', await scan(LEAF + RING + DUST));
    const { code, out, err } = await here('trace', 'leaf.png', '-o', 'leaf.svg');
    expect([code, err]).toEqual([0, '']);
    const lines = out.trimEnd().split('\n');
    expect(lines[0]).toBe('leaf.png: 720 × 600 px, 8 bits, PNG');
    expect(lines[1]).toMatch(/^2 areas, 3 outlines, \d+ nodes$/);
    expect(lines[2]).toMatch(/^ink is darker than 0\.5/);
    expect(lines.slice(3)).toEqual([
      "note: The scan's scale is from 300 dpi, as the file says: 60.96 × 50.8 mm.",
      expect.stringMatching(/^note: 2 specks under 0\.5 mm² were left out \(0\.3\d? mm² in all\)\.$/),
      expect.stringMatching(/^note: 1 pinhole under 0\.5 mm² was filled \(0\.2\d? mm² in all\)\.$/),
      'wrote leaf.svg',
    ]);
    expect(readFileSync(at('leaf.svg'), 'utf8')).toContain(
      'width="60.9601mm" height="50.8001mm" viewBox="0 0 60.9601 50.8001"',
    );
    expect(files()).toEqual(['leaf.png', 'leaf.svg']);
    const { boxes: found } = boxes('leaf.svg');
    for (const [k, expected] of [
      [20, 15, 46, 33],
      [5, 33, 19, 47],
    ].entries()) {
      const { x0, y0, x1, y1 } = found[k] ?? { x0: 0, y0: 0, x1: 0, y1: 0 };
      // Within 0.03 mm on round shapes, and 0.1 mm at corners.
      [x0, y0, x1, y1].forEach((v, side) => {
        expect(Math.abs(v - expected[side])).toBeLessThan(k === 0 && side % 2 === 0 ? 0.1 : 0.03);
      });
    }
  });

  it('is read back from its SVG as the same motif', async () => {
    put('leaf.png', await scan(LEAF + RING));
    await here('trace', 'leaf.png', '-o', 'leaf.svg');
    const { image, resolution } = await decodeScan(readFileSync(at('leaf.png')), { name: 'leaf.png' });
    const inches = { across: resolution!.across * 25.4, down: resolution!.down * 25.4, unit: 'inch' } as const;
    const picture = framePicture(image, { from: 'file', resolution: inches });
    const direct = motifFromTrace(traceImage(image, picture.scale), picture);
    const { motif } = boxes('leaf.svg');
    expect(motif.frame).toEqual({
      ...direct.frame,
      widthMm: expect.closeTo(direct.frame.widthMm, 9),
      heightMm: expect.closeTo(direct.frame.heightMm, 9),
    });
    expect(motif.notices).toEqual([]);
    expect(motif.shapes.map(({ ink, rule, id }) => [ink, rule, id])).toEqual(
      direct.shapes.map(({ ink, rule, id }) => [ink, rule, id]),
    );
    motif.shapes.forEach(({ contours }, k) => {
      contours.forEach(({ coords }, n) => {
        const own = direct.shapes[k].contours[n].coords;
        expect(coords.length).toBe(own.length);
        // Handles of straight sides are not written: they lie at the thirds to 0.1 µm.
        coords.forEach((v, i) => {
          expect(Math.abs(v - own[i])).toBeLessThan(2e-4);
        });
      });
    });
  });

  it('goes straight into every other command, as a motif and in a job', async () => {
    put('leaf.png', await scan(LEAF + RING));
    const checked = await here('check', 'leaf.png');
    expect([checked.code, checked.err]).toEqual([1, '']);
    expect(checked.out).toContain('unit 60.96 × 50.8 mm');
    expect(checked.out).toContain("The scan's scale is from 300 dpi, as the file says");
    expect(checked.out).toContain('1 island would fall out');
    expect(await here('new', 'leaf.png', '-o', 'leaf.okuri.json')).toMatchObject({ code: 0, err: '' });
    const job = await here('check', 'leaf.okuri.json', '--json');
    expect(JSON.parse(job.out).motif).toMatchObject({ file: expect.stringContaining('leaf.png'), shapes: 2 });
    expect(await here('cloth', 'leaf.okuri.json', '-o', 'cloth.png')).toMatchObject({ err: '' });
    expect(files()).toEqual(['cloth.png', 'leaf.okuri.json', 'leaf.png']);
  });

  it('prints one document, and keeps what it did not write', async () => {
    put('leaf.png', await scan(LEAF));
    put('mine.svg', '<svg/>');
    expect(await here('trace', 'leaf.png', '-o', 'mine.svg')).toMatchObject({ code: 2, out: '' });
    expect(readFileSync(at('mine.svg'), 'utf8')).toBe('<svg/>');
    expect(await here('trace', 'leaf.png', '-o', 'mine.svg', '--force')).toMatchObject({ code: 0 });
    const { out } = await here('trace', 'leaf.png', '-o', 'mine.svg', '--json');
    expect(JSON.parse(out)).toMatchObject({
      scans: [{ file: 'leaf.png', format: 'png', bits: 8, widthPx: 720, heightPx: 600, turned: false, reduced: null }],
      scale: { from: 'file', perspective: false },
      motif: { file: 'mine.svg', areas: 1, outlines: 1 },
      specks: { count: 0 },
      joined: null,
    });
  });
});

describe('another scale', () => {
  it('is a resolution, a ruler, or the width that the unit has', async () => {
    put('leaf.png', await scan(LEAF, { stated: false }));
    for (const [args, widthMm] of [
      [['--resolution', '150'], 121.92],
      [['--ruler', '0,300 720,300', '--length', '72mm'], 72],
      [['--keep', '40x30mm+10+5', '--resolution', '300'], 40],
    ] as const) {
      expect(await here('trace', 'leaf.png', '-o', 'leaf.svg', ...args)).toMatchObject({ code: 0, err: '' });
      expect(boxes('leaf.svg').frame.widthMm).toBeCloseTo(widthMm, 6);
    }
    // The kept part begins at 10, 5.
    expect(boxes('leaf.svg').boxes[0]?.y0).toBeCloseTo(10, 1);
    expect((await here('check', 'leaf.png', '--width', '12cm')).out).toContain('unit 120 × 100 mm');
  });

  it('comes from four dots, of a drawing that lies askew: they are found and left out', async () => {
    const dots = [
      [8, 8],
      [53, 8],
      [53, 43],
      [8, 43],
    ].map(([x, y]) => `<circle cx="${x}" cy="${y}" r="1"/>`);
    const inner = `<g transform="rotate(4 30 25)">${LEAF}${dots.join('')}</g>`;
    put('leaf.jpg', await drawn(inner, { paper: '#ece4d0' }).jpeg({ quality: 90 }).toBuffer());
    const { out, err } = await here('trace', 'leaf.jpg', '-o', 'leaf.svg', '--dots', '45x35mm');
    expect(err).toBe('');
    expect(out).toContain("The scan's scale is from four dots 45 × 35 mm apart");
    expect(out).toContain('The dots that gave the scale are left out of the drawing.');
    const { frame, boxes: found } = boxes('leaf.svg');
    expect([frame.widthMm, frame.heightMm, found.length]).toEqual([45, 35, 1]);
    // The leaf where it lies between the dots.
    for (const [side, v] of [12, 7, 38, 25].entries()) {
      const { x0, y0, x1, y1 } = found[0]!;
      expect(Math.abs([x0, y0, x1, y1][side] - v)).toBeLessThan(0.12);
    }
    // The same places by hand, some pixels off, in px of the picture.
    const turn = (4 * Math.PI) / 180;
    const places = [
      [8, 8],
      [53, 8],
      [53, 43],
      [8, 43],
    ].map(([x, y], k) => {
      const [dx, dy] = [x - 30, y - 25];
      const px = (mm: number) => (mm / 25.4) * DPI;
      const [tx, ty] = [30 + dx * Math.cos(turn) - dy * Math.sin(turn), 25 + dx * Math.sin(turn) + dy * Math.cos(turn)];
      return `${(px(tx) + 3 - k).toFixed(1)},${(px(ty) - 2 + k).toFixed(1)}`;
    });
    await here('trace', 'leaf.jpg', '-o', 'hand.svg', '--points', places.join(' '), '--apart', '45x35mm');
    const byHand = boxes('hand.svg').boxes;
    expect(byHand).toHaveLength(1);
    expect(Math.abs(byHand[0]!.x0 - found[0]!.x0)).toBeLessThan(0.02);
  });

  it('reads light lines on dark paper, and lets pencil of one colour vanish', async () => {
    put('light.png', await scan(LEAF.replace('/>', ' fill="#fff"/>'), { paper: '#222' }));
    await here('trace', 'light.png', '-o', 'light.svg', '--light');
    expect(boxes('light.svg').boxes).toHaveLength(1);
    const colours = `${LEAF}<circle cx="12" cy="40" r="6" fill="#4060ff"/>`;
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH_MM} ${HEIGHT_MM}"><rect width="100" height="100" fill="#fff"/>${colours}</svg>`;
    put('pencil.png', new Resvg(svg, { fitTo: { mode: 'width', value: 720 } }).render().asPng());
    for (const [glass, count] of [
      ['red', 2],
      ['blue', 1],
    ] as const) {
      await here('trace', 'pencil.png', '-o', 'pencil.svg', '--resolution', '300', '--glass', glass);
      expect(boxes('pencil.svg').boxes).toHaveLength(count);
    }
  });

  it('says where ink runs over the edge', async () => {
    put('leaf.png', await scan(`${LEAF}<path d="M50 10H70V20H50Z"/>`));
    const { out } = await here('trace', 'leaf.png', '-o', 'leaf.svg');
    expect(out).toContain('look: Ink runs over the edge of what the scan shows (right)');
  });
});

it('joins scans of one drawing by their overlap, and says the misfit', async () => {
  const blots = Array.from({ length: 26 }, (_, k) => {
    const [x, y, r] = [3 + ((k * 37) % 91), 3 + ((k * 53) % 45), 1 + ((k * 7) % 5) / 3];
    return `<path transform="translate(${x} ${y}) rotate(${k * 49})" d="M0 0C${r} ${-r} ${2 * r} ${-r} ${3 * r} 0C${2 * r} ${r / 2} ${r} ${r} 0 0Z"/>`;
  }).join('');
  const whole = await drawn(blots, { widthMm: 97.536 }).png().toBuffer();
  const part = (left: number) =>
    sharp(whole).extract({ left, top: 0, width: 672, height: 600 }).withMetadata({ density: DPI }).png().toBuffer();
  put('left.png', await part(0));
  put('right.png', await part(480));
  const { code, out, err } = await here('trace', 'left.png', 'right.png', '-o', 'all.svg');
  expect([code, err]).toEqual([0, '']);
  expect(out).toMatch(
    /2 scans are joined by their overlap, with a misfit of 0\.0\d mm in the mean and 0\.\d\d mm at most/,
  );
  const { frame, boxes: found } = boxes('all.svg');
  expect(Math.abs(frame.widthMm - 97.536)).toBeLessThan(0.2);
  put('whole.png', await sharp(whole).withMetadata({ density: DPI }).png().toBuffer());
  await here('trace', 'whole.png', '-o', 'whole.svg');
  expect(found).toHaveLength(boxes('whole.svg').boxes.length);
});

describe('what can not be traced gets one sentence and exit code 2', () => {
  const resolution = ['--resolution', '300'];
  const cases: [string, () => Promise<Uint8Array | string>, string[], RegExp][] = [
    [
      'text that is called a PNG',
      async () => 'Dear colleague',
      [],
      /a\.png is no picture that can be read: save the scan as/,
    ],
    ['no byte', async () => '', [], /a\.png is empty/],
    ['a PNG cut short', async () => (await scan(LEAF)).subarray(0, 2000), [], /a\.png is broken or cut short/],
    [
      'a JPEG cut short',
      async () => (await drawn(LEAF).jpeg().toBuffer()).subarray(0, 4000),
      [],
      /broken or cut short/,
    ],
    [
      'a TIFF cut short',
      async () => (await drawn(LEAF).tiff().toBuffer()).subarray(0, 4000),
      [],
      /broken or cut short/,
    ],
    [
      'one pixel',
      () =>
        sharp(Uint8Array.of(0), { raw: { width: 1, height: 1, channels: 1 } })
          .png()
          .toBuffer(),
      [],
      /1 by 1 pixels: too small/,
    ],
    ['white all over', () => scan(''), [], /a\.png: The picture holds nothing darker than its paper/],
    ['black all over', () => scan('', { paper: '#000' }), [], /a\.png: The picture is dark all over/],
    ['nothing but dust', () => scan(DUST), [], /a\.png: Nothing is left of the drawing but specks/],
    [
      'no resolution',
      () => scan(LEAF, { stated: false }),
      [],
      /a\.png: it states no resolution that can be taken: give --resolution DPI/,
    ],
    [
      'a resolution that makes it a hair',
      () => scan('<circle cx="2" cy="2" r="1"/>', { widthMm: 4.064, heightMm: 4.064 }),
      [],
      /4\.06 × 4\.06 mm/,
    ],
    ['a resolution that none has', () => scan(LEAF), ['--resolution', '9'], /--resolution is "9"/],
    ['two scales', () => scan(LEAF), [...resolution, '--dots', '20x20mm'], /stand together/],
    ['no dots', () => scan(LEAF), ['--dots', '20x20mm'], /a\.png: Four round dots are needed/],
    [
      'points on a line',
      () => scan(LEAF),
      ['--points', '10,10 210,10 410,10 610,10', '--apart', 'A6'],
      /a\.png: .*line/,
    ],
    [
      'points outside',
      () => scan(LEAF),
      ['--points', '10,10 910,10 900,400 10,410', '--apart', 'A6'],
      /a\.png: .*outside the picture/,
    ],
    ['points without a distance', () => scan(LEAF), ['--points', '1,1 2,1 2,2 1,2'], /--points needs --apart/],
    [
      'a ruler of no length',
      () => scan(LEAF),
      ['--ruler', '10,10 400,10', '--length', '0mm'],
      /a\.png: The length between/,
    ],
    ['a part beyond the picture', () => scan(LEAF), ['--keep', '100x100mm+0+0'], /a\.png: The part to keep/],
    ['a glass of no use', () => scan(LEAF), ['--glass', 'brown'], /say red, green or blue/],
    ['another name', () => scan(LEAF), ['-o', 'a.pdf'], /a\.pdf is no name for a motif/],
    ['the scan itself', () => scan(LEAF), ['-o', 'a.png'], /a\.png is no name for a motif/],
  ];
  it.each(cases)('%s', async (_, make, args, sentence) => {
    put('a.png', await make());
    const { code, out, err } = await here('trace', 'a.png', '-o', 'a.svg', ...args);
    expect(err).toMatch(sentence);
    expect(err).toMatch(/^okuri: [^\n]+[.]\n$/);
    expect(err).not.toContain('fault of the program');
    expect([code, out]).toEqual([2, '']);
    expect(files()).toEqual(['a.png']);
  });

  it('in check and new as well', async () => {
    put('a.png', await scan(LEAF, { stated: false }));
    put('cut.png', (await scan(LEAF)).subarray(0, 2000));
    const unstated = await here('check', 'a.png');
    expect(unstated.err).toMatch(
      /^okuri: a\.png: it states no resolution that can be taken: trace it first, with okuri trace a\.png/,
    );
    expect([unstated.code, unstated.out]).toEqual([2, '']);
    expect(await here('check', 'cut.png')).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('cut.png is broken'),
    });
    expect(await here('new', 'a.png', '-o', 'a.okuri.json')).toMatchObject({ code: 2, out: '' });
    expect(files()).toEqual(['a.png', 'cut.png']);
  });

  it('400 million pixels, at once and in little memory', async () => {
    put('huge.png', blackPng(20_000));
    const run = await okuri(['trace', 'huge.png', '-o', 'a.svg'], folder);
    expect(run.err).toMatch(
      /^okuri: huge\.png has 400 million pixels \(20000 by 20000\): at most 300 million are read; scan it at a lower/,
    );
    expect([run.code, run.out]).toEqual([2, '']);
    expect(run.megabytes).toBeLessThan(250);
    expect(files()).toEqual(['huge.png']);
  });
});

/** A true PNG of one bit a pixel, black: PNG specification, 5.2 (signature), 5.3 (chunks), 11.2.1 (header), annex D (checksum). */
function blackPng(side: number): Uint8Array {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(side, 0);
  header.writeUInt32BE(side, 4);
  header[8] = 1;
  const rows = deflateSync(Buffer.alloc(side * (1 + Math.ceil(side / 8))));
  const chunk = (name: string, data: Uint8Array) => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    let crc = 0xffffffff;
    for (const byte of body) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
    }
    ends.writeUInt32BE(~crc >>> 0, 4);
    return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
  };
  const signature = Buffer.from('89504e470d0a1a0a', 'hex');
  return Buffer.concat([signature, chunk('IHDR', header), chunk('IDAT', rows), chunk('IEND', Buffer.alloc(0))]);
}

it('loads the decoder of pictures for pictures alone', async () => {
  put(
    'leaf.svg',
    `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="50mm" viewBox="0 0 60 50">${LEAF}</svg>`,
  );
  put('leaf.png', await scan(LEAF));
  const watch = `data:text/javascript,${encodeURIComponent(
    "import { Module } from 'node:module'; import { writeSync } from 'node:fs'; process.on('exit', () => writeSync(2, String(Object.keys(Module._cache).some((path) => /[\\\\/]sharp[\\\\/]/.test(path)))));",
  )}`;
  const loaded = (name: string) =>
    spawnSync(process.execPath, ['--import', watch, MAIN, 'new', name, '-o', `${name}.okuri.json`], {
      cwd: folder,
      encoding: 'utf8',
    }).stderr;
  expect([loaded('leaf.svg'), loaded('leaf.png')]).toEqual(['false', 'true']);
});
