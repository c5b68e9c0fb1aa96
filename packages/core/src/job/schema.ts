import { toJSONSchema, z } from 'zod';
import { PLAN_DEFAULTS } from '../cloth/plan-options.js';
import { USUAL_PACE } from '../paper/cutting-work.js';
import { PUNCH_WITHIN_MM, USUAL_PUNCHES_MM } from '../stencil/tools.js';
import { proofSchema } from './proof-schema.js';

/** The version of the job file's form that this engine reads and writes. */
export const JOB_VERSION = 1;

/** Longest string taken for any value of a job file: a guard, not a rule of the trade. */
const TEXT_MAX = 2_000;

/** Most openings that a sheet may have numbers for, and the highest number: guards. */
const OPENINGS_MAX = 200_000;
export const NUMBER_MAX = 1_000_000;

/** Most punches of a set: a guard. */
const PUNCHES_MAX = 100;

/** Most ties that one stencil may have: a guard. */
const TIES_MAX = 100_000;

const text = (about: string) => z.string().max(TEXT_MAX).describe(about);
const length = (about: string) => text(`${about} A length with its unit, such as "250mm", "36cm" or "9 7/8in".`);
const place = (about: string) =>
  z.tuple([z.number(), z.number()]).describe(`${about} [x, y] in mm on the unit, at the size that "takenAt" says.`);
const movement = (about: string) =>
  z
    .union([
      z.number(),
      z.strictObject({
        dry: length('A distance on a strip of the paper, dry.'),
        wet: length('The same distance when the strip is soaked.'),
      }),
    ])
    .describe(`${about} Per cent (below zero: shrinks), or measured: {"dry": "600mm", "wet": "603mm"}.`);
const takenAt = (of: string) => text(`Of ${of}: width and height with a unit, such as "300x420mm".`).optional();
const shrinkage = (about: string) =>
  z
    .union([z.literal('unknown'), z.number()])
    .describe(`${about} Per cent of the length before: 100 · (before − after) / before; measured on a swatch.`)
    .default('unknown');
const colour = (about: string) => text(`${about} "#rrggbb" or "#rgb".`);

/** What a job file may say. Lengths stay text here; `readJob` reads them and checks their bounds. */
export const jobFileSchema = z
  .strictObject({
    $schema: text('Where an editor finds this schema; of no account for the work.').optional(),
    okuri: z.literal(JOB_VERSION).describe('The version of this form.'),
    title: text('What the sheets and the guide are headed with; the name of the motif file when left out.').optional(),
    motif: text('The drawing, relative to this file.'),
    fonts: z.array(text('A font file, relative to this file.')).max(64).default([]),
    date: text('Printed on every page, as YYYY-MM-DD.').optional(),
    revision: text('Printed beside the date.').default('1'),
    width: length('Width of the unit: scales the artwork evenly; "auto" takes it as drawn.').default('auto'),
    height: length('Height of the unit: re-frames the artwork without stretching; "auto" follows the width.').default(
      'auto',
    ),
    repeat: z
      .enum(['straight', 'half-drop', 'drop', 'brick'])
      .describe('"drop": the column to the right sits lower by `step`; "brick": the row below sits further right.')
      .default('straight'),
    step: text('The step as a fraction of the unit, such as "1/3"; 1/2 for drop and brick when left out.').optional(),
    across: z.int().describe('Units side by side on one sheet.').default(1),
    down: z.int().describe('Units below one another on one sheet.').default(1),
    spill: z
      .enum(['auto', 'carry', 'trim'])
      .describe('What happens to a shape that pokes out of the unit; "auto" decides shape by shape.')
      .default('auto'),
    drawn: z
      .enum(['cut', 'cloth'])
      .describe('What the dark of the drawing means: what the knife takes out, or what shall be dark on the cloth.')
      .default('cut'),
    method: z
      .enum(['resist', 'direct'])
      .describe('How it is printed: openings keep the colour of the cloth, or take the dye.')
      .default('resist'),
    hairlines: z
      .enum(['area', 'line'])
      .describe('How a closed hairline without a fill is read: as the area inside it, or as a line.')
      .default('area'),
    paperColour: colour('The colour of the drawing that is paper, not ink.').default('#ffffff'),
    hand: z
      .enum(['right', 'left'])
      .describe('The hand that holds the knife: the sheet is worked from the upper left, or from the upper right.')
      .default('right'),
    transfer: z
      .enum(['cut-through', 'carbon', 'lightbox'])
      .describe(
        'How the cartoon gets onto the stencil paper: pages fixed on its face and cut through, traced through carbon paper, or seen through on a light table.',
      )
      .default('cut-through'),
    grain: z
      .enum(['upright', 'level', 'unknown'])
      .describe("How the stencil paper's grain runs on the sheet.")
      .default('unknown'),
    gauze: z.boolean().describe('Gauze is stuck over the cut sheet before it prints.').default(true),
    soak: z.boolean().describe('The sheet is soaked before it prints.').default(true),
    punch: z
      .enum(['dry', 'wet'])
      .describe('How dots are punched: pricked through the joined cartoon, or measured on the soaked sheet.')
      .default('dry'),
    punches: z
      .array(text('Diameter of a punch: a length with its unit, such as "2.5mm".'))
      .max(PUNCHES_MAX)
      .describe(
        `The punches that you own. A round hole is given to the nearest of them if it is drawn within ${PUNCH_WITHIN_MM} mm of its size, else to the knife; an empty list gives all to the knife.`,
      )
      .default(USUAL_PUNCHES_MM.map((mm) => `${mm}mm`)),
    movement: z
      .union([
        z.literal('unknown'),
        z.strictObject({
          along: movement('Along the grain.'),
          across: movement('Across the grain.'),
        }),
      ])
      .describe('How far the stencil paper moves when it is soaked.')
      .default('unknown'),
    cut: z
      .union([z.literal('all'), z.array(colour('An ink of the drawing.')).min(1).max(64)])
      .describe('The inks to cut, one stencil each; "all" takes all but the paper colour.')
      .default('all'),
    joins: z
      .strictObject({
        reach: length('How far apart two ends may be and still belong together.').default('3mm'),
        gapShare: z.number().describe('Share of the width at the seam from which a gap is worth a look.').default(0.2),
        gapMin: length('A gap under this is never worth a look.').default('0.2mm'),
        gapMax: length('A gap over this always has to be mended.').default('0.8mm'),
        kinkFineDeg: z.number().describe('Kink worth a look in narrow openings, degrees.').default(6),
        kinkBroadDeg: z.number().describe('Kink worth a look in broad openings, degrees.').default(12),
        broad: length('Width at the seam from which an opening counts as broad.').default('4mm'),
      })
      .prefault({}),
    hold: z
      .strictObject({
        mode: z
          .enum(['band', 'crossing'])
          .describe('What waits for the proof: everything in the band, or what crosses the seam and lies near it.')
          .default('band'),
        width: length('Width of the held margin; "auto" is 1 in, at most a sixth of the side, at least 10 mm.').default(
          'auto',
        ),
      })
      .prefault({}),
    lap: length('How far lead cuts run past the seam; "auto" is 0.4 mm for resist and 0.1 mm for direct.').default(
      'auto',
    ),
    sheet: z
      .strictObject({
        border: length('Paper left around the design field.').default('40mm'),
        trailing: length('Paper left at the right and the bottom edge.').default('25mm'),
        dot: length('Diameter of the leading dots, which print.').default('1mm'),
        sightDot: length('Diameter of the trailing dots, through which printed ones are sighted.').default('1.5mm'),
        seat: z
          .boolean()
          .describe(
            'Put all dots where they show least: near openings where several columns print, in the selvedges where one does.',
          )
          .default(false),
      })
      .prefault({}),
    paper: z
      .strictObject({
        kind: z
          .enum(['treated', 'card'])
          .describe('The stencil paper: treated (tanned and oiled or smoked) paper, or plain card.')
          .default('treated'),
        neck: length(
          'The least width of paper that may stand between openings; "auto" is 3 mm for card, and for treated paper 1 mm with gauze and 2 mm without.',
        ).default('auto'),
        slit: length(
          'The least width of an opening that knife and paste manage; "auto" is 0.8 mm for resist and 0.5 mm for direct.',
        ).default('auto'),
        span: length(
          'The longest opening without a tie across; "auto" is 120 mm with gauze and 50 mm without.',
        ).default('auto'),
        tongue: z
          .union([z.literal('auto'), z.number()])
          .describe(
            'The longest tongue of paper, as so many times the width of its root; "auto" is 6 with gauze and 3 without.',
          )
          .default('auto'),
        stroke: z
          .enum(['down', 'up', 'left', 'right'])
          .describe('The way the spatula is drawn over the sheet.')
          .default('down'),
        turn: length('The tightest radius that a blade turns.').default('1.5mm'),
        tieWidth: length(
          'Width of ties; "auto" is 2 mm for treated paper and 3 mm for card, and never less than `neck`.',
        ).default('auto'),
        tieFlare: length('How much wider a tie gets on each side where it ends; 0.3 mm to 0.5 mm is usual.').default(
          '0.4mm',
        ),
        largeIsland: z.number().describe('Islands above this area, mm², get two ties.').default(150),
        hideTies: z
          .boolean()
          .describe('Spend up to half as much length again on ties where the drawing breaks anyway.')
          .default(true),
      })
      .describe('The stencil paper, what is asked of it, and of ties.')
      .prefault({}),
    double: z
      .strictObject({
        on: z
          .boolean()
          .describe('Cut each ink as two sheets, so that the second prints where the first has its ties.')
          .default(false),
        overlap: length('How far the second sheet prints over the edges that both share.').default('0.6mm'),
      })
      .describe('Two sheets that print one after the other, where no tie may show.')
      .prefault({}),
    pace: z
      .strictObject({
        mmPerMinute: z
          .number()
          .describe('Cut in a minute, mm, stops at corners not counted.')
          .default(USUAL_PACE.mmPerMinute),
        secondsPerCorner: z
          .number()
          .describe('Seconds for a corner: stop, lift and set down again.')
          .default(USUAL_PACE.secondsPerCorner),
        blade: length('Cut with one blade.').default(`${USUAL_PACE.bladeMm / 1000}m`),
      })
      .describe(
        "The cutter's own pace, by which minutes and blades are estimated. The defaults are a usual pace, common practice with no published source, and the guide says so: time yourself and put your own.",
      )
      .prefault({}),
    pages: z
      .strictObject({
        paper: text('Printer paper: A4, Letter, … or a size such as "329mm x 483mm".').default('A4'),
        orientation: z.enum(['auto', 'portrait', 'landscape']).default('auto'),
        margin: length('What the printer leaves blank along every edge.').default('6.35mm'),
        overlap: length('How far neighbouring pages overlap.').default('10mm'),
        mirror: z
          .union([z.literal('auto'), z.boolean()])
          .describe(
            'Mirror the artwork, not the text. "auto" goes by the transfer, and none of them needs mirrored pages: pages are cut through, traced or seen through from the face of the stencil paper. Say true to work from its back.',
          )
          .default('auto'),
        skipBlank: z.boolean().describe('Leave out pages with no artwork on them.').default(false),
        scaleAcross: z.number().describe('Printer correction across the page.').default(1),
        scaleAlong: z.number().describe('Printer correction along the page.').default(1),
      })
      .prefault({}),
    cloth: z
      .strictObject({
        width: length('Width of the cloth.').default('2m'),
        length: length('Length of the cloth.').default('2m'),
        colour: colour('The colour of the cloth.').default('#f4efe3'),
        dye: colour('The colour of the dye.').default('#1f3a5f'),
        seams: z.boolean().describe('Draw the seams on the picture of the cloth.').default(false),
        dots: z.boolean().describe('Draw the dots.').default(false),
        findings: z.boolean().describe('Draw where the findings are.').default(false),
        sizes: z
          .enum(['table', 'finished'])
          .describe('Whether width and length are those on the table or those wanted after finishing.')
          .default('table'),
        shrinkAlong: shrinkage('How far the cloth shrinks along its length.'),
        shrinkAcross: shrinkage('How far it shrinks across.'),
        direction: z
          .enum(['along', 'across'])
          .describe("Whether the unit's height runs along the cloth, or the sheet lies turned clockwise by a quarter.")
          .default('along'),
        selvedge: z
          .union([
            length('Both of them.'),
            z.strictObject({
              left: length('The left one.').default('0mm'),
              right: length('The right one.').default('0mm'),
            }),
          ])
          .describe(
            'What stays unprinted along the sides, on the table: one width, or {"left": "20mm", "right": "15mm"}.',
          )
          .default('0mm'),
        start: length('What stays unprinted at the start of the cloth, on the table.').default('0mm'),
        end: length('What stays unprinted at its end.').default('0mm'),
      })
      .prefault({}),
    plan: z
      .strictObject({
        start: z
          .enum(['above', 'in'])
          .describe(
            'How columns that a drop shifts (rows of a brick) begin: "above" before the start of the cloth, on waste; "in" a part of a step in, with a gap that is trimmed off.',
          )
          .default(PLAN_DEFAULTS.start),
        fill: z
          .enum(['cover', 'whole'])
          .describe('Print over the edges so that all cloth is covered, or only what lies on it whole.')
          .default(PLAN_DEFAULTS.fill),
        align: z
          .enum(['left', 'centre'])
          .describe('Whole columns begin at the left selvedge, or stand in the middle of the width.')
          .default(PLAN_DEFAULTS.align),
        stepping: z
          .enum(['every-other', 'on'])
          .describe('"every-other": what touches is not printed wet; "on": each placement lands on the one before.')
          .default(PLAN_DEFAULTS.stepping),
        wipeEvery: z
          .int()
          .describe('For stepping "on": placements between two wipings of the back of the sheet.')
          .default(PLAN_DEFAULTS.wipeEvery),
        checkEvery: z.int().describe('Placements between two check marks.').default(PLAN_DEFAULTS.checkEvery),
        faces: z
          .enum(['one', 'both'])
          .describe('Print one face of the cloth, or both in register.')
          .default(PLAN_DEFAULTS.faces),
        secondsAPlacement: z
          .number()
          .describe('Time a placement takes, seconds: lay the sheet, spread, lift.')
          .default(PLAN_DEFAULTS.time.secondsAPlacement),
        dryingMinutes: z
          .number()
          .describe('How long a pass dries before the next, minutes.')
          .default(PLAN_DEFAULTS.time.dryingMinutes),
        hoursADay: z.number().describe('Hours of work a day.').default(PLAN_DEFAULTS.time.hoursADay),
        film: length('Thickness of the film of paste or colour.').default(`${PLAN_DEFAULTS.paste.filmMm}mm`),
        loss: z
          .number()
          .describe(
            'Paste added for what stays on the tool and in the bowl, per cent of what is printed: 40 mixes 140 ml where 100 ml are printed.',
          )
          .default(PLAN_DEFAULTS.paste.extraPercent),
        density: z.number().describe('Density of the paste, g/ml.').default(PLAN_DEFAULTS.paste.densityGPerMl),
        sheetLasts: z
          .union([z.literal('auto'), z.int()])
          .describe('Placements that a cut sheet lasts; "auto" goes by whether it is gauzed.')
          .default('auto'),
        sheetDays: z
          .union([z.literal('auto'), z.int()])
          .describe('Days of use that a cut sheet lasts; "auto" goes by whether it is gauzed.')
          .default('auto'),
        order: z
          .union([
            z.literal('none'),
            z.strictObject({
              finished: length('The finished length that is wanted.'),
              wholeRepeats: z.boolean().describe('In whole repeats only.').default(false),
            }),
          ])
          .describe('The finished length for which the length to order is worked out.')
          .default('none'),
        panels: z
          .union([
            z.literal('none'),
            z.strictObject({
              count: z.int().describe('How many.'),
              finished: length('How long each is when finished.'),
            }),
          ])
          .describe('Lengths of the cloth that are joined side by side, so that their repeats have to match.')
          .default('none'),
      })
      .describe(
        'How the run along the cloth is planned. Times, film, paste for tool and bowl, density and what a sheet lasts are common practice with no published source: put your own.',
      )
      .prefault({}),
    numbers: z
      .record(
        z.string().max(TEXT_MAX),
        z.array(z.tuple([z.int().min(1).max(NUMBER_MAX), z.number(), z.number(), z.number().min(0)])).max(OPENINGS_MAX),
      )
      .describe(
        'Numbers that openings keep from run to run, by ink ("#000000 B" for the second of two sheets): number, place (mm from the upper left of the field) and area (mm²), at the size of "takenAt". The command writes them.',
      )
      .optional(),
    ties: z
      .record(
        z.string().max(TEXT_MAX),
        z
          .array(
            z.strictObject({
              id: text('Its name, such as "T1".'),
              kind: z
                .enum(['printed', 'release'])
                .describe('"printed" stays and shows on the cloth; "release" is cut away when the gauze holds.'),
              from: place('Its end on one bank of the opening.'),
              to: place('Its end on the other bank.'),
            }),
          )
          .max(TIES_MAX),
      )
      .describe('Ties that stand across openings, by ink. The command `okuri ties` writes them.')
      .optional(),
    proof: proofSchema,
    takenAt: z
      .strictObject({
        ties: takenAt('"ties"'),
        numbers: takenAt('"numbers"'),
        done: takenAt('"done"'),
        proof: takenAt('"proof"'),
      })
      .describe(
        "The unit's size when each of these was taken. Where the unit has another size now, ties and numbers go along with the drawing; what was cut and proofed is of a sheet of the old size, and does not count. Left out: the present size. Written along with them.",
      )
      .optional(),
    done: z
      .union([
        text('Numbers and ranges: "1-20, 24".'),
        z.record(z.string().max(TEXT_MAX), text('Numbers and ranges: "1-20, 24".')),
      ])
      .describe(
        'What is cut already and drawn as done: "1-20, 24", or such a list for each ink ("#000000 B" for the second of two sheets).',
      )
      .optional(),
  })
  .describe('A job: one motif, how it repeats, and the sheets that are cut for it.');

/** A job file's content as written, before defaults. */
export type JobFile = z.input<typeof jobFileSchema>;

/** The same with every default filled in. */
export type FilledJobFile = z.output<typeof jobFileSchema>;

/** The published JSON Schema (draft 2020-12) of the job file as a person writes it. */
export function jobSchema(): Record<string, unknown> {
  return { title: 'Okuri job', ...toJSONSchema(jobFileSchema, { io: 'input' }) };
}
