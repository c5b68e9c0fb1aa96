import { InputError, type Voice } from '@okuri/core';
import { type Dot, listText, said, shareText } from '@okuri/core/inside';
import type { Agreement } from './agreement.js';

const POINT_OUT: Readonly<Record<Voice, string>> = {
  command: 'point out the four corner dots with --points',
  window: 'point out the four corner dots on the picture',
  print: 'point out the four corner dots on the picture',
};

/** What a person can do where dots weren't found. */
const help = (voice: Voice): string =>
  `scan or photograph the whole print with clear paper round its dots, or ${POINT_OUT[voice]}`;

/** The refusal of a picture that can't be laid over its sheet. */
export function notLaid(
  dots: readonly Dot[],
  {
    marks,
    best,
    some,
  }: { readonly marks: number; readonly best: Agreement | null; readonly some: readonly Dot[] | null },
): InputError {
  const sizes = dots.map(({ diameterMm }) => diameterMm);
  const size = [...new Set([Math.min(...sizes), Math.max(...sizes)])].map((mm) => Number(mm.toFixed(2))).join(' to ');
  const names = listText(dots.map(({ name }) => name));
  if (some !== null) {
    const rest = dots.filter((dot) => !some.includes(dot));
    return new InputError(
      said(
        (voice) =>
          `Of the printed dots ${listText(some.map(({ name }) => name))} were found and ${listText(rest.map(({ name }) => name))} ${rest.length === 1 ? 'was' : 'were'} not, and a photograph needs four: ${help(voice)}.`,
      ),
    );
  }
  if (marks === 0) {
    return new InputError(
      said(
        (voice) => `None of the printed dots ${names} (${size} mm across) was found in the picture: ${help(voice)}.`,
      ),
    );
  }
  const found = `${marks} round ${marks === 1 ? 'mark was' : 'marks were'} found in the picture`;
  const check = 'check that it is the proof of this job and of this stencil, and that its dots show';
  if (best === null) {
    return new InputError(
      said(
        (voice) =>
          `${found}, but taken for the printed dots ${names} none of them lays the print on this sheet: ${check}, or ${POINT_OUT[voice]}.`,
      ),
    );
  }
  return new InputError(
    said(
      (voice) =>
        `${found}, and some lie as the printed dots ${names} do, but what printed between them is not this sheet (${shareText(best.share)} agree at best): ${check}, or ${POINT_OUT[voice]}.`,
    ),
  );
}

/** The refusal of four given places. */
export function notLaidByPoints(dots: readonly Dot[], agreement: Agreement | null): InputError {
  const names = listText(dots.map(({ name }) => name));
  return new InputError(
    agreement === null
      ? `The four places given for the dots ${names} can't be those of a rectangle: give them in this order, clockwise from the upper left of the sheet.`
      : `The print does not agree with this sheet when the four places given are its dots ${names} (${shareText(agreement.share)} agree): give them in this order, clockwise from the upper left of the sheet, and check that it is the proof of this job.`,
  );
}

/** The refusal of a print seen from its other side. */
export function seenFromBehind(): InputError {
  return new InputError(
    'The picture shows the print mirrored, as from the back of the cloth or from a film: scan its printed side, or mirror the picture first.',
  );
}

/** The refusal of a picture in which dots are too small to be seen. */
export function tooCoarse(dotPx: number): InputError {
  return new InputError(
    `At this resolution the printed dots are ${dotPx.toFixed(1)} px across, too small to be found: scan the proof at 200 dpi or more.`,
  );
}
