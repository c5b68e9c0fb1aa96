import { autoLength, type Bounds, choice, choiceOr, colour, number, text, tick } from './field.js';
import { at } from './job-key.js';
import { day, fontFiles, inks, motifFile, paperMovement, punchSizes, titleOr } from './own-fields.js';
import { repeatKey, repeatStep } from './repeat-fields.js';

/** A hand-cut unit: smaller is no pattern a knife can cut, larger is no sheet a person can lift. */
const UNIT_MM: Bounds = { min: 5, max: 3_000 };
/** Units on one sheet, across times down. */
export const UNITS_MOST = 64;
const UNITS: Bounds = { min: 1, max: UNITS_MOST };

const asDrawn = (): null => null;

/** Keys of the drawing, of its repeat and of how the sheet is worked. */
export const PATTERN_KEYS = {
  title: at(
    'title',
    titleOr('What the sheets and the guide are headed with; the name of the motif file when left out.'),
  ),
  motif: at('motif', motifFile('The drawing, relative to this file.')),
  fonts: at('fonts', fontFiles()),
  date: at('date', day('Printed on every page, as YYYY-MM-DD.')),
  revision: at('revision', text('Printed beside the date.', '1')),
  width: at(
    'size.widthMm',
    autoLength(UNIT_MM, 'Width of the unit: scales the artwork evenly; "auto" takes it as drawn.', asDrawn),
  ),
  height: at(
    'size.heightMm',
    autoLength(
      UNIT_MM,
      'Height of the unit: re-frames the artwork without stretching; "auto" follows the width.',
      asDrawn,
    ),
  ),
  repeat: repeatKey('"drop": the column to the right sits lower by `step`; "brick": the row below sits further right.'),
  step: at(
    'repeat',
    repeatStep('The step as a fraction of the unit, such as "1/3"; 1/2 for drop and brick when left out.'),
  ),
  across: at('across', number(UNITS, 1, 'Units side by side on one sheet.', { whole: true })),
  down: at('down', number(UNITS, 1, 'Units below one another on one sheet.', { whole: true })),
  spill: at(
    'spill',
    choice(
      ['auto', 'carry', 'trim'],
      'auto',
      'What happens to a shape that pokes out of the unit; "auto" decides shape by shape.',
    ),
  ),
  drawn: at(
    'drawn',
    choice(
      ['cut', 'cloth'],
      'cut',
      'What the dark of the drawing means: what the knife takes out, or what shall be dark on the cloth.',
    ),
  ),
  method: at(
    'method',
    choice(
      ['resist', 'direct'],
      'resist',
      'How it is printed: openings keep the colour of the cloth, or take the dye.',
    ),
  ),
  hairlines: at(
    'hairlines',
    choice(
      ['area', 'line'],
      'area',
      'How a closed hairline without a fill is read: as the area inside it, or as a line.',
    ),
  ),
  paperColour: at('paperColour', colour('#ffffff', 'The colour of the drawing that is paper, not ink.')),
  hand: at(
    'practice.hand',
    choice(
      ['right', 'left'],
      'right',
      'The hand that holds the knife: the sheet is worked from the upper left, or from the upper right.',
    ),
  ),
  transfer: at(
    'practice.transfer',
    choice(
      ['cut-through', 'carbon', 'lightbox'],
      'cut-through',
      'How the cartoon gets onto the stencil paper: pages fixed on its face and cut through, traced through carbon paper, or seen through on a light table.',
    ),
  ),
  grain: at(
    'practice.grain',
    choiceOr(['upright', 'level'], 'unknown', "How the stencil paper's grain runs on the sheet."),
  ),
  gauze: at('practice.gauze', tick(true, 'Gauze is stuck over the cut sheet before it prints.')),
  soak: at('practice.soak', tick(true, 'The sheet is soaked before it prints.')),
  punch: at(
    'punch',
    choice(
      ['dry', 'wet'],
      'dry',
      'How dots are punched: pricked through the joined cartoon, or measured on the soaked sheet.',
    ),
  ),
  punches: at('punchesMm', punchSizes()),
  movement: at('movement', paperMovement('How far the stencil paper moves when it is soaked.')),
  cut: at('cut', inks('The inks to cut, one stencil each; "all" takes all but the paper colour.')),
};
