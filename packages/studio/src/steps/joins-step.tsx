import { formatMm, type Join, type JoinState } from '@okuri/core';
import { comesTogether, countStates } from '@okuri/core/inside';
import { useEffect, useRef } from 'preact/hooks';
import { useStudio } from '../state/use-studio';
import { offsetWay, placeOf } from '../words/joins';
import { JoinPicture } from './join-picture';

/** How much of the cloth is seen around a join, mm. */
const AROUND_MM = 24;

/** The joins, to be walked through one by one. */
export function JoinsStep() {
  const { studio, state } = useStudio();
  const { checked, join: chosen } = state;
  const body = useRef<HTMLDivElement>(null);
  const walk = useRef<((by: 1 | -1) => void) | null>(null);
  walk.current = null;
  useEffect(() => {
    // The whole step takes the keys, its heading too.
    const step = body.current?.closest<HTMLElement>('.step') ?? null;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
      if (event.key === 'n') walk.current?.(1);
      else if (event.key === 'p') walk.current?.(-1);
    };
    step?.addEventListener('keydown', onKeyDown);
    return () => step?.removeEventListener('keydown', onKeyDown);
  }, [checked === null]);
  if (checked === null) return null;
  const { joins, lattice } = checked;
  if (joins.length === 0) return <p class="fact">No shape crosses a seam: no join has to meet.</p>;
  const order = walkOrder(joins);
  const place = chosen === null ? -1 : order.indexOf(chosen);
  const bad = joins.filter((join) => !comesTogether(join)).length;
  const { bends } = countStates(joins);
  const go = (to: number): void => {
    const index = order[(to + order.length) % order.length];
    studio.set({
      join: index,
      finding: null,
      place: null,
      goTo: { view: 'cloth', at: placeOf(joins[index], lattice), widthMm: AROUND_MM },
      view: 'cloth',
    });
  };
  walk.current = (by) => go(place < 0 && by < 0 ? order.length - 1 : place + by);
  return (
    <div ref={body}>
      <p class="fact">
        {joins.length - bad} of {joins.length} joins meet{bad === 0 ? '.' : `; ${bad} do not, and come first.`}
        {bends > 0 && ` At ${bends} that ${bends === 1 ? 'meets' : 'meet'} the outline bends.`}
      </p>
      <div class="walk">
        <button type="button" onClick={() => go(place < 0 ? order.length - 1 : place - 1)}>
          Join before
        </button>
        <button type="button" onClick={() => go(place + 1)}>
          Next join
        </button>
        <span class="field-hint">
          or the keys <kbd>n</kbd> and <kbd>p</kbd>
        </span>
      </div>
      {chosen !== null && joins[chosen] !== undefined && (
        <div class="walk-at" role="status">
          <p>
            Join {place + 1} of {order.length}, on the {joins[chosen].seam === 'right' ? 'right' : 'bottom'} seam at{' '}
            {joins[chosen].atMm.toFixed(1)} mm
          </p>
          <JoinPicture checked={checked} join={joins[chosen]} label={pictureWords(joins[chosen])} />
          <JoinFacts join={joins[chosen]} />
          <p class="field-hint">
            Dash and dot: the seam. Solid: the way of the outline in this placement; dashed: in the next one.
          </p>
        </div>
      )}
    </div>
  );
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches('input, select, textarea');
}

function pictureWords({ state, offsetMm, kinkDeg }: Join): string {
  if (state === 'open') return 'The join enlarged: one end at the seam, nothing on the other side.';
  const kink = kinkDeg === null ? '' : `, and a kink of ${kinkDeg.toFixed(1)} degrees`;
  return `The join enlarged: both sides at the seam, ${formatMm(Math.abs(offsetMm ?? 0))} apart along it${kink}.`;
}

const STATE_WORDS: Readonly<Record<Exclude<JoinState, 'open'>, string>> = {
  meets: 'meets',
  bends: 'meets, but bends there',
  off: 'is off',
};

function JoinFacts({ join }: { readonly join: Join }) {
  const { state, flush, offsetMm, gapMm, kinkDeg } = join;
  if (state === 'open') {
    return <p>Nothing meets it on the other side{flush ? '; the shape ends flush at the seam' : ''}.</p>;
  }
  return (
    <dl class="facts-list">
      <dt>State</dt>
      <dd>{STATE_WORDS[state]}</dd>
      <dt>Offset along the seam</dt>
      <dd>{offsetMm === null ? '–' : `${formatMm(Math.abs(offsetMm))}${offsetWay(join)}`}</dd>
      <dt>Gap across the outline</dt>
      <dd>{gapMm === null ? '–' : formatMm(gapMm)}</dd>
      <dt>Kink</dt>
      <dd>{kinkDeg === null ? '–' : `${kinkDeg.toFixed(1)}°`}</dd>
    </dl>
  );
}

/** The joins that do not meet before those that do, of these the ones that bend first; each in their own order. */
function walkOrder(joins: readonly Join[]): number[] {
  const all = joins.map((_, k) => k);
  const rank = ({ state }: Join) => (state === 'meets' ? 2 : state === 'bends' ? 1 : 0);
  return all.sort((k, l) => rank(joins[k]) - rank(joins[l]) || k - l);
}
