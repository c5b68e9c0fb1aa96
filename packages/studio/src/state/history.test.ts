import fc from 'fast-check';
import { expect, it } from 'vitest';
import { changed, redone, startHistory, undone } from './history';

it('goes back over every change, and forward again', () => {
  fc.assert(
    fc.property(fc.array(fc.integer(), { minLength: 1, maxLength: 50 }), (values) => {
      let history = startHistory({ value: -1 });
      const states = [history.present];
      for (const value of values) {
        const next = { value };
        states.push(next);
        history = changed(history, next, null);
      }
      for (let k = states.length - 1; k > 0; k--) {
        expect(history.present).toBe(states[k]);
        history = undone(history);
      }
      expect(history.present).toBe(states[0]);
      expect(undone(history)).toEqual(history);
      for (let k = 1; k < states.length; k++) {
        history = redone(history);
        expect(history.present).toBe(states[k]);
      }
    }),
  );
});

it('takes changes about one thing in a row as one step', () => {
  const a = { width: 1 };
  let history = changed(startHistory(a), { width: 2 }, 'width');
  history = changed(history, { width: 3 }, 'width');
  expect(undone(history).present).toBe(a);
  history = changed(undone(redone(undone(history))), { width: 4 }, 'width');
  expect(undone(history).present).toBe(a);
});

it('a change after going back makes a new way forward', () => {
  let history = changed(startHistory('a'), 'b', null);
  history = changed(undone(history), 'c', null);
  expect(redone(history)).toEqual(history);
  expect(undone(history).present).toBe('a');
});
