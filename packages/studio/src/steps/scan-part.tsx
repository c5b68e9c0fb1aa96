import { counted } from '@okuri/core/inside';
import { NumberField } from '../controls/number-field';
import { SliderField } from '../controls/slider-field';
import type { TracedScan } from '../engine/protocol';
import { PLAIN_SCAN, SCAN_BOUNDS } from '../scan/settings';
import { askScale } from '../state/ask-scale';
import { useStudio } from '../state/use-studio';

/** A scan that became the motif: its scale and where that is from, and how it is traced. */
export function ScanPart({ facts }: Pick<TracedScan, 'facts'>) {
  const { studio, state } = useStudio();
  const { specksMm2, pinholesMm2, inkShift, smooth } = { ...PLAIN_SCAN, ...state.history.present.scan };
  const { widthPx, heightPx } = facts;
  const left = [
    facts.specks > 0 && `${counted(facts.specks, 'speck')} left out`,
    facts.pinholes > 0 && `${counted(facts.pinholes, 'pinhole')} filled`,
  ].filter((one) => one !== false);
  return (
    <>
      <h3>The scan</h3>
      <p class="fact">
        {widthPx} × {heightPx} pixels; its scale is from {facts.scale}
        {left.length > 0 ? `; ${left.join(', ')}` : ''}.
      </p>
      <ScaleButton />
      <SliderField
        label="What counts as ink"
        value={inkShift}
        {...SCAN_BOUNDS.inkShift}
        step={0.05}
        ends={['only the darkest', 'fainter marks too']}
        words={inkWords(inkShift)}
        onChange={(value) => studio.traceBy({ inkShift: value })}
      />
      <NumberField
        label="Dark specks left out, mm²"
        hint="Dark marks smaller than this are dust."
        value={specksMm2}
        {...SCAN_BOUNDS.specksMm2}
        onChange={(value) => studio.traceBy({ specksMm2: value })}
      />
      <NumberField
        label="Pinholes filled, mm²"
        hint="Light spots in the ink smaller than this are grain."
        value={pinholesMm2}
        {...SCAN_BOUNDS.pinholesMm2}
        onChange={(value) => studio.traceBy({ pinholesMm2: value })}
      />
      <NumberField
        label="Smoothing of outlines"
        hint="1 as the picture asks for it; 0 follows every tremble."
        value={smooth}
        {...SCAN_BOUNDS.smooth}
        onChange={(value) => studio.traceBy({ smooth: value })}
      />
    </>
  );
}

/** Opens the question of a scan's scale. */
export function ScaleButton() {
  const { studio } = useStudio();
  return (
    <p class="fact">
      <button type="button" onClick={() => askScale(studio)}>
        Tell its scale another way …
      </button>
    </p>
  );
}

function inkWords(shift: number): string {
  if (shift === 0) return 'halfway between ink and paper';
  const share = Math.round(100 * Math.abs(shift));
  return shift > 0 ? `${share} % nearer to the paper` : `${share} % nearer to the darkest ink`;
}
