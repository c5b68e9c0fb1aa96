import { describe, expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { JOB_KEYS } from './keys.js';
import { readJob } from './read.js';
import { jobSchema } from './schema.js';
import { newJobText } from './write.js';

const nested = ([key, ...rest]: readonly string[], value: unknown): object => ({
  [key]: rest.length === 0 ? value : nested(rest, value),
});
const read = (more: object) => readJob(JSON.stringify({ okuri: 1, motif: 'leaves.svg', ...more }), { file: 'job' });
const readWith = (name: string, value: unknown) => read(nested(name.split('.'), value));
const bounded = Object.entries(JOB_KEYS).flatMap(([name, { facts }]) =>
  facts.bounds === null ? [] : [{ name, kind: facts.kind, ...facts.bounds }],
);
const BARE = read({}).job;

describe('a key with bounds', () => {
  it.each(bounded)('$name is taken from $min to $max and no farther', ({ name, kind, min, max }) => {
    const written = (value: number): unknown => (kind === 'length' ? `${value}mm` : value);
    const step = kind === 'whole' ? 1 : 0.001 * (1 + Math.abs(min));
    // Ties are as broad as the least neck and no narrower, and gaps stand in their order: keys that go together are tried together.
    const room = name === 'paper.neck' ? { tieWidth: '30mm' } : {};
    const rest = {
      paper: room,
      joins: name === 'joins.gapMin' ? { gapMax: '20mm' } : name === 'joins.gapMax' ? { gapMin: '0mm' } : {},
    };
    const withRest = (value: number) => {
      const [head, part] = name.split('.');
      const own = nested(name.split('.'), written(value)) as Record<string, object>;
      return read({
        ...rest,
        ...own,
        ...(part === undefined ? {} : { [head]: { ...rest[head as 'paper'], ...own[head] } }),
      });
    };
    const held = (value: number) => JOB_KEYS[name as keyof typeof JOB_KEYS].heldIn(withRest(value).job);
    if (name !== 'paper.tieWidth') expect(held(min)).toBe(min);
    expect(held(max)).toBe(max);
    expect(() => withRest(max + step)).toThrow(InputError);
    if (kind !== 'length' || min > step) expect(() => withRest(min - step)).toThrow(InputError);
  });
});

it('is left to its default in a job that says nothing, and that default is written as it is read', () => {
  for (const [name, key] of Object.entries(JOB_KEYS)) {
    const written = key.write(BARE);
    if (written === undefined || name === 'step') continue;
    expect({ name, value: key.heldIn(readWith(name, written).job) }).toEqual({ name, value: key.heldIn(BARE) });
  }
});

it('follows gauze, paper, method and transfer where it says "auto"', () => {
  const card = read({ paper: { kind: 'card' }, gauze: false, method: 'direct' }).job;
  const names = ['paper.neck', 'paper.slit', 'paper.span', 'paper.tongue', 'paper.tieWidth', 'pages.mirror'] as const;
  expect(names.map((name) => JOB_KEYS[name].heldIn(card))).toEqual([3, 0.5, 50, 3, 3, false]);
  expect(names.map((name) => JOB_KEYS[name].write(card))).toEqual(names.map(() => 'auto'));
});

it('stays as a person wrote it, in units of their own, while it means the same', () => {
  const own = {
    width: '9 7/8in',
    repeat: 'drop',
    step: '2/4',
    punches: ['1/8in', '2mm'],
    sheet: { border: '1 1/2in' },
    movement: { along: { dry: '600mm', wet: '601mm' }, across: 1 },
    cloth: { selvedge: { left: '1in', right: '0mm' }, colour: '#FED' },
    plan: { order: { finished: '4yd' } },
  };
  const { job, written } = read(own);
  expect(JSON.parse(newJobText(job, written))).toMatchObject(own);
  expect(read(JSON.parse(newJobText(job, written))).job).toEqual(job);
  const wider = {
    ...job,
    size: { ...job.size, widthMm: 300 },
    repeat: { kind: 'brick', step: { p: 1, q: 3 } } as const,
  };
  const text = JSON.parse(newJobText(wider, written));
  expect(text).toMatchObject({ width: '300mm', repeat: 'brick', step: '1/3', sheet: own.sheet, punches: own.punches });
  expect(read(text).job).toEqual(wider);
});

it('tells the published schema its bounds and its default', () => {
  type Node = {
    readonly properties?: Record<string, Node>;
    readonly minimum?: number;
    readonly maximum?: number;
    readonly description?: string;
    readonly default?: unknown;
  };
  const schema = jobSchema() as Node;
  const nodeOf = (name: string) =>
    name.split('.').reduce((node: Node | undefined, step) => node?.properties?.[step], schema);
  for (const { name, kind, min, max } of bounded) {
    const node = nodeOf(name);
    const said = JSON.stringify(node);
    if (kind === 'length') expect(said).toMatch(/From [-\d.]+ mm to [-\d.]+ mm\./);
    else expect(said).toContain(`"minimum":${min},"maximum":${max}`);
    expect({ name, usual: node?.default }).toEqual({ name, usual: expect.anything() });
  }
});
