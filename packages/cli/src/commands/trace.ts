import { basename, extname } from 'node:path';
import { type Drawing, InputError, type Motif } from '@okuri/core';
import { counted } from '@okuri/core/inside';
import type { Command } from 'commander';
import { readBytes, shownPath } from '../read-file.js';
import { readGlass, readKeep, readScale, readTracing, type TraceTexts } from '../trace-options.js';
import { type TracedScans, traceScans } from '../trace-scans.js';
import { checkTarget, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

interface TraceCommandOptions extends TraceTexts {
  readonly output: string;
  readonly light?: boolean;
  readonly evenLight: boolean;
  readonly json?: boolean;
  readonly force?: boolean;
}

/** `okuri trace SCAN... -o MOTIF.svg`. */
export function addTrace(program: Command, run: Run): void {
  const command = program
    .command('trace')
    .summary('a motif from a scan or photograph of a drawing on paper')
    .description(
      'Traces what is drawn in a scan or photograph (PNG, JPEG, TIFF, WebP) and writes it as an SVG in mm. Several scans of one large drawing are joined by their overlap. The scale is that of the file unless it is given.',
    )
    .argument('<SCAN...>', 'a scan, or several that overlap')
    .requiredOption('-o, --output <MOTIF.svg>', 'the drawing to write')
    .option('--resolution <dpi>', 'dots an inch, for a file that states none or a wrong one')
    .option('--dots <WIDTHxHEIGHT>', 'four drawn dots round the drawing are so far apart: a slanting view is set right')
    .option(
      '--points <"x,y x,y x,y x,y">',
      "four places in px, clockwise from the paper's upper left: dots, or the corners of the paper",
    )
    .option('--apart <WIDTHxHEIGHT>', 'with --points: how far apart they are, or the name of the paper')
    .option('--ruler <"x,y x,y">', 'two places in px, such as on a ruler in the picture')
    .option('--length <length>', 'with --ruler: the length between them')
    .option(
      '--ink-level <n>',
      'what counts as ink: -0.4 (only the darkest) to 0.4 (fainter grey as well); 0 by default',
    )
    .option('--speck <mm²>', 'dark marks smaller than this are left out; 0.5 by default')
    .option('--pinhole <mm²>', 'light holes smaller than this are filled; 0.5 by default')
    .option('--smooth <factor>', 'how far outlines may be smoothed: 1 by default, 0 follows every tremble')
    .option('--light', 'what is light is the drawing')
    .option('--no-even-light', 'leave uneven light as it is')
    .option('--glass <colour>', 'look through red, green or blue glass: lines of that colour vanish, others darken')
    .option('--keep <WIDTHxHEIGHT+x+y>', 'the part to keep, from the upper left, such as 200x150mm+10+20')
    .option('--json', 'print one JSON document and nothing else')
    .option('--force', "write over a file that is not the tool's own");
  command.action(async (names: readonly string[]) => {
    const options = command.opts<TraceCommandOptions>();
    const { output } = options;
    if (extname(output).toLowerCase() !== '.svg') {
      throw new InputError(`${shownPath(output)} is no name for a motif: give -o MOTIF.svg.`);
    }
    const request = {
      scale: readScale(options),
      keep: readKeep(options.keep),
      glass: readGlass(options.glass),
      trace: { ...readTracing(options), light: options.light === true, evenLight: options.evenLight },
      remedy: () => 'give --resolution DPI, --dots, --points with --apart, or --ruler with --length.',
    };
    const writing = { force: options.force === true, inputs: names };
    // What can be judged before the work is, so that nobody waits for a refusal.
    checkTarget({ path: output, kind: 'svg' }, writing);
    const files = names.map((name) => ({ name: shownPath(name), bytes: readBytes(name, 'scan') }));
    const traced = await traceScans(files, request, run.progress);
    run.progress.show('writing');
    const { toSvg } = await import('@okuri/writer');
    const title = basename(names[0], extname(names[0]));
    writeFiles([{ path: output, kind: 'svg', content: toSvg(drawingOf(traced.motif, title), 0) }], writing);
    run.progress.clear();
    run.streams.out(
      options.json
        ? `${JSON.stringify(traceDocument(traced, output), null, 2)}\n`
        : `${traceReport(traced)}wrote ${shownPath(output)}\n`,
    );
    run.finish(false);
  });
}

/** The motif as a page of its own size. */
function drawingOf({ frame, shapes }: Motif, title: string): Drawing {
  const items = shapes.map(({ contours, ink }) => ({ kind: 'path' as const, contours, fill: ink }));
  const { widthMm, heightMm } = frame;
  return { title, date: '', groups: {}, pages: [{ name: '', widthMm, heightMm, items }] };
}

/** A line for each scan, what was drawn, how it was told from the paper, and all that a person should know. */
function traceReport(traced: TracedScans): string {
  const { motif, trace, scans } = traced;
  const lines = scans.map(({ name, image, bits, format, reduced, turned }) => {
    const size = `${image.width} × ${image.height} px${reduced === null ? '' : `, 1/${reduced} of its size`}`;
    return `${name}: ${size}, ${bits} bits, ${format.toUpperCase()}${turned ? ', turned upright' : ''}`;
  });
  const { level, ink, paper } = trace;
  lines.push(
    `${counted(motif.shapes.length, 'area')}, ${counted(outlines(motif), 'outline')}, ${counted(nodesOf(motif), 'node')}`,
    `ink is ${paper >= ink ? 'darker' : 'lighter'} than ${level.toFixed(2)} (ink ${ink.toFixed(2)}, paper ${paper.toFixed(2)}; 0 is black)`,
    ...motif.notices.map(({ severity, message }) => `${severity}: ${message}`),
  );
  return lines.map((line) => `${line}\n`).join('');
}

function traceDocument({ motif, trace, picture, scans, joined, widthPx, heightPx }: TracedScans, output: string) {
  const { scale } = picture;
  return {
    scans: scans.map(({ name, format, bits, image, turned, reduced }) => ({
      file: name,
      format,
      bits,
      widthPx: image.width,
      heightPx: image.height,
      turned,
      reduced,
    })),
    picture: { widthPx, heightPx },
    scale: { from: scale.from, words: scale.words, pixelsPerMm: scale.pixelsPerMm, perspective: scale.perspective },
    motif: {
      file: output,
      widthMm: motif.frame.widthMm,
      heightMm: motif.frame.heightMm,
      areas: motif.shapes.length,
      outlines: outlines(motif),
      nodes: nodesOf(motif),
      notices: motif.notices,
    },
    specks: trace.specks,
    pinholes: trace.pinholes,
    level: trace.level,
    ink: trace.ink,
    paper: trace.paper,
    noise: trace.noise,
    joined: joined && { placed: joined.placed, overlaps: joined.overlaps, doubts: joined.doubts },
  };
}

function outlines({ shapes }: Motif): number {
  return shapes.reduce((sum, { contours }) => sum + contours.length, 0);
}

function nodesOf({ shapes }: Motif): number {
  return shapes.reduce(
    (sum, { contours }) => sum + contours.reduce((own, { coords }) => own + (coords.length - 2) / 6, 0),
    0,
  );
}
