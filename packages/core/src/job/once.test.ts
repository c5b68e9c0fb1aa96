import { expect, it } from 'vitest';
import { lazily, once } from './once.js';

it('works a value out once, when it is first asked for', () => {
  let runs = 0;
  const value = once(() => {
    runs++;
    return { runs };
  });
  expect(runs).toBe(0);
  expect(value()).toBe(value());
  expect(runs).toBe(1);
});

it('keeps a value that is nothing, and tries again after an error', () => {
  let runs = 0;
  const nothing = once(() => {
    runs++;
    return null;
  });
  expect([nothing(), nothing(), runs]).toEqual([null, null, 1]);
  const late = once(() => {
    runs++;
    if (runs < 3) throw new RangeError('not yet');
    return runs;
  });
  expect(late).toThrow('not yet');
  expect([late(), late()]).toEqual([3, 3]);
});

it('works out the parts of an object that are read, each once, and all of them for a copy', () => {
  const ran: string[] = [];
  const part = (name: string) => () => {
    ran.push(name);
    return name.toUpperCase();
  };
  const whole = lazily<{ a: string; b: string; c: string }>({ a: part('a'), b: part('b'), c: part('c') });
  expect(Object.keys(whole)).toEqual(['a', 'b', 'c']);
  expect(ran).toEqual([]);
  expect([whole.b, whole.b]).toEqual(['B', 'B']);
  expect(ran).toEqual(['b']);
  expect({ ...whole }).toEqual({ a: 'A', b: 'B', c: 'C' });
  expect(ran).toEqual(['b', 'a', 'c']);
});
