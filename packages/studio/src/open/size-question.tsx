import { tieIdsText } from '@okuri/core/inside';
import { useEffect, useRef } from 'preact/hooks';
import { keyOf, withKey } from '../state/job-keys';
import type { Project } from '../state/project';
import type { Studio } from '../state/studio';
import { type SizeQuestion as Asked, settledText } from '../state/unit-size';
import { useStudio } from '../state/use-studio';
import { lengthText } from '../words/lengths';

/** Asks what becomes of ties that find no two banks of paper at a new size of the unit. */
export function SizeQuestion() {
  const { studio, state } = useStudio();
  const { sizeAsked: asked, units } = state;
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (asked !== null && dialog.current?.open === false) dialog.current.showModal();
    if (asked === null && dialog.current?.open === true) dialog.current.close();
  }, [asked]);
  if (asked === null) return <dialog ref={dialog} />;
  const { stranded, from, now } = asked;
  const many = stranded.length > 1;
  const size = ({ widthMm, heightMm }: Asked['now']): string =>
    `${lengthText(widthMm, units)} × ${lengthText(heightMm, units)}`;
  return (
    <dialog
      ref={dialog}
      class="question"
      aria-labelledby="size-title"
      onCancel={(event) => {
        event.preventDefault();
        settle(studio, []);
      }}
    >
      <h2 id="size-title" tabIndex={-1} autofocus>
        {many ? `${stranded.length} ties find` : 'One tie finds'} no two banks of paper at the new size
      </h2>
      <p>
        {namesOf(asked)}: the unit was {size(from)}, and is {size(now)} now. Ties go along with the drawing, but stay as
        wide as they are.
      </p>
      <div class="question-row">
        <button type="button" onClick={() => settle(studio, [])}>
          <strong>Keep {many ? 'them' : 'it'}</strong>
          <span>Left out of the sheet and marked ▲ in the list, until you move {many ? 'them' : 'it'}.</span>
        </button>
        <button type="button" onClick={() => settle(studio, stranded)}>
          <strong>Take {many ? 'them' : 'it'} out</strong>
          <span>All other ties stay.</span>
        </button>
        <button type="button" onClick={() => goBack(studio, asked)}>
          <strong>Go back to {size(from)}</strong>
          <span>The change of size is undone.</span>
        </button>
      </div>
    </dialog>
  );
}

/** The ties by their names, with the ink where there are several. */
function namesOf({ stranded }: Asked): string {
  const inks = [...new Set(stranded.map(({ ink }) => ink))];
  return inks
    .map((ink) => {
      const ids = tieIdsText(stranded.filter((tie) => tie.ink === ink).map(({ id }) => id));
      return inks.length > 1 ? `${ids} of ${ink}` : ids;
    })
    .join('; ');
}

/** Puts the ties where the new size has them, in one step of undo with the change of size. */
function settle(studio: Studio, without: Asked['stranded']): void {
  const { checked } = studio.state;
  studio.set({ sizeAsked: null });
  if (checked !== null)
    studio.amend({ ...studio.project, jobText: settledText(studio.project.jobText, checked, without) });
}

/** The last change undone where it was that of the size; else (a job that was opened so) the old size set. */
function goBack(studio: Studio, { from }: Asked): void {
  studio.set({ sizeAsked: null });
  const { project } = studio;
  const before = studio.state.history.past.at(-1);
  if (before !== undefined && changesSize(before, project)) {
    studio.undo();
    return;
  }
  const { frame } = studio.state.read?.motif ?? { frame: null };
  const keepsShape =
    frame !== null && Math.abs(from.widthMm * frame.heightMm - from.heightMm * frame.widthMm) < 1e-3 * from.widthMm;
  const height = keepsShape && keyOf(project.jobText, ['height']) === undefined ? undefined : `${from.heightMm}mm`;
  const jobText = withKey(withKey(project.jobText, ['width'], `${from.widthMm}mm`), ['height'], height);
  studio.change({ ...project, jobText });
}

function changesSize(a: Project, b: Project): boolean {
  if (a.motif !== b.motif) return false;
  if (a.scan !== b.scan) return true;
  return ['width', 'height'].some((key) => keyOf(a.jobText, [key]) !== keyOf(b.jobText, [key]));
}
