import { readFileSync } from 'node:fs';
import {
  type Drawing,
  type Finding,
  InputError,
  type Item,
  inVoice,
  JOB_KEYS,
  type Job,
  type JobFile,
  type JobResult,
  outputs,
  proofOutput,
  readJob,
  runJob,
} from '@okuri/core';
import { refuseStrandedTies } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { demoJob } from './whole-job/support.js';

// In a window and on paper nobody can type a command: no sentence there names one, an option of one, or a key of the job file.

const { sampleOfSets } = await import(new URL('../scripts/corpus/sample.mjs', import.meta.url).href);
const { placed } = await import(new URL('../scripts/corpus/settings.mjs', import.meta.url).href);

const DRAWINGS = 24;
const SEED = 11;

/** Every key of the job file, and every group of them, in quotes or with a dot as only a file has it. */
const KEYS = Object.keys(JOB_KEYS).flatMap((name) => {
  const [head, part] = name.split('.');
  return part === undefined ? [`"${head}"`] : [`"${head}"`, `"${part}"`, `"${name}"`, `${name}`];
});
const NAMES = new RegExp([...new Set(KEYS)].map((key) => key.replaceAll('.', '\\.')).join('|'));
const COMMAND = /\bokuri [a-z]|(?:^|\s)--[a-z]|\bJOB\b|\bSCAN\b/;

const motifOf = (name: string) => readSvg(readFileSync(new URL(`../fixtures/motifs/${name}`, import.meta.url)));

function faultsOf(sentence: string): string[] {
  return [COMMAND, NAMES].flatMap((pattern) => {
    const found = pattern.exec(sentence);
    return found === null ? [] : [`${found[0]}: ${sentence}`];
  });
}

function said(findings: readonly Finding[]): string[] {
  return findings.flatMap((finding) => (['window', 'print'] as const).map((voice) => inVoice(finding, voice)));
}

function textsOf(drawing: Drawing): string[] {
  const texts = (items: readonly Item[]): string[] =>
    items.flatMap((item) => (item.kind === 'text' ? [item.text] : 'items' in item ? texts(item.items) : []));
  // Lines of a paragraph are one sentence after the other.
  return [...drawing.pages.map(({ items }) => items), ...Object.values(drawing.groups)].map((items) =>
    texts(items).join(' '),
  );
}

/** Everything that is printed for a job. */
function printed(result: JobResult): string[] {
  const drawings = (['sheets', 'guide', 'stencil', 'map'] as const).flatMap((what) =>
    outputs(result, what, { font: fontMetrics }),
  );
  const proofs = result.sheets.flatMap((_, index) =>
    (['strips', 'form', 'map'] as const).map((what) =>
      proofOutput(result, what, { index, report: null, font: fontMetrics() }),
    ),
  );
  return [...drawings, ...proofs].flatMap(({ drawing }) => textsOf(drawing));
}

it('the search finds what it looks for', () => {
  for (const sentence of [
    'run okuri proof JOB SCAN',
    'measure by hand and give --offset.',
    'make "paper.tieWidth" smaller',
    'take it out of "proof"',
  ]) {
    expect(faultsOf(sentence)).not.toEqual([]);
  }
  expect(faultsOf('The proof shows that the paper moves: measure the joins again.')).toEqual([]);
});

describe('in a window and on paper no sentence names a command, an option or a key', () => {
  it(`of the findings of ${DRAWINGS} drawings of many exporters`, () => {
    const faults: string[] = [];
    let count = 0;
    for (const { name, read, settings } of sampleOfSets(SEED, DRAWINGS)) {
      try {
        const says = {
          okuri: 1,
          motif: 'drawing.svg',
          date: '2026-01-01',
          width: `${settings.widthMm}mm`,
          ...settings.says,
        };
        const { job } = readJob(JSON.stringify(says), { file: name });
        const motif = readSvg(placed(read(), settings.place), { widthMm: settings.widthMm });
        const { findings } = runJob(motif, job);
        count += findings.length;
        faults.push(...said(findings).flatMap(faultsOf));
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        faults.push(...faultsOf(inVoice(error, 'window').replace(`${name}: `, '')));
      }
    }
    expect(faults).toEqual([]);
    expect(count).toBeGreaterThan(DRAWINGS);
  });

  const CHOICES: readonly (readonly [string, JobFile | Partial<JobFile>])[] = [
    ['as it is', {}],
    [
      'dots measured on soaked paper that moves',
      { punch: 'wet', movement: { along: 0.3, across: 1.2 }, grain: 'level' },
    ],
    ['paper that moves, its grain not told', { movement: { along: 0.3, across: 1.2 } }],
    ['no gauze, trimmed, left-handed', { gauze: false, spill: 'trim', hand: 'left', ties: {} }],
    ['two sheets for an ink', { double: { on: true }, ties: {} }],
    ['a proof taken in, marks of what is cut', { proof: { '#000000': [{ at: 'J1', offset: '0.4mm' }] }, done: '1-5' }],
    ['of another size', { width: '130mm', takenAt: { done: '120x90mm', proof: '120x90mm' }, done: '1-3' }],
  ];

  it.each(CHOICES)('of what a small motif finds and prints: %s', (_, says) => {
    const file = { okuri: 1, motif: 'straight.svg', date: '2026-01-01', ...says };
    const result = runJob(motifOf('straight.svg'), readJob(JSON.stringify(file), { file: 'small' }).job);
    expect([...said(result.findings), ...printed(result)].flatMap(faultsOf)).toEqual([]);
  });

  it('of what the demo finds and prints', () => {
    const { motif, job } = demoJob();
    const result = runJob(motif, job);
    expect([...said(result.findings), ...printed(result)].flatMap(faultsOf)).toEqual([]);
  });

  it.each(['brick-checks', 'colours', 'stroke-vine'])('of what %s finds and prints', (name) => {
    const file = { okuri: 1, motif: name, spill: 'carry', repeat: 'brick', date: '2026-01-01' };
    const result = runJob(motifOf(`${name}.svg`), readJob(JSON.stringify(file), { file: name }).job);
    expect([...said(result.findings), ...printed(result)].flatMap(faultsOf)).toEqual([]);
  });

  it('of what is refused in a window', () => {
    const { motif } = demoJob();
    const refused: readonly Partial<JobFile>[] = [
      { across: 9, down: 9 },
      { joins: { gapMin: '2mm', gapMax: '1mm' } },
      { paper: { tieWidth: '1mm', neck: '2mm' } },
      { double: { on: true } },
      { gauze: false },
      { paper: { tieWidth: '30mm' } },
    ];
    const sentences = refused.map((says) => {
      try {
        const { job }: { job: Job } = demoJob(says);
        refuseStrandedTies(runJob(motif, job));
        return '';
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        return inVoice(error, 'window');
      }
    });
    expect(sentences.flatMap(faultsOf)).toEqual([]);
    expect(sentences.filter((sentence) => sentence !== '').length).toBeGreaterThanOrEqual(5);
  });
});
