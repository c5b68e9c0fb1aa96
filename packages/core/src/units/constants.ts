/** International yard and pound agreement, 24 FR 5348 (1 July 1959): an inch is 25.4 mm exactly. */
export const MM_PER_INCH = 25.4;

/** A unit of PDF's default user space is 1/72 in (ISO 32000-1, 8.3.2.3). */
export const POINTS_PER_INCH = 72;

/** CSS Values 3, "Absolute lengths": 96 px are an inch. */
export const PIXELS_PER_INCH = 96;
