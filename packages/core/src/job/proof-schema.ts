import { z } from 'zod';

/** Most ends of one sheet that a job may keep offsets of: a guard. */
const ENDS_MAX = 100_000;

/** Longest name or length: a guard. */
const TEXT_MAX = 100;

/** What a proof tells of one end of one sheet. */
const proofEnd = z.strictObject({
  at: z
    .string()
    .max(TEXT_MAX)
    .describe(
      'The join that was measured: J and a number, such as "J3". Older files say X for a join at a seam and Y for a stop.',
    ),
  offset: z
    .string()
    .max(TEXT_MAX)
    .describe(
      'How far it really is from its planned place: along the seam (or the stop), above zero down or to the right. A length with its unit and sign, such as "0.4mm" or "-0.4mm".',
    ),
  turn: z
    .number()
    .describe('How far the lead edge is turned from the plan, degrees clockwise; nothing when left out.')
    .optional(),
  place: z
    .tuple([z.number(), z.number()])
    .describe(
      'Where the end was planned when it was measured, [x, y] in mm on the field: tells whether the drawing was changed since.',
    )
    .optional(),
});

/** What printed proofs tell of the sheets, by stencil. */
export const proofSchema = z
  .record(z.string().max(TEXT_MAX), z.array(proofEnd).max(ENDS_MAX))
  .describe(
    'How far edges were really cut from the plan, as a printed proof shows, by ink ("#000000 B" for the second of two sheets): the second cut follows them. The command `okuri proof` writes them.',
  )
  .optional();
