/** Bytes of one drawing. Real artwork stays under 20 MB; what is larger is nearly always a hidden raster image. */
export const MAX_BYTES = 64 * 1024 * 1024;
/** Nesting of elements: drawing programs stay under 40; the XML reader's cost grows with the square of the depth. */
export const MAX_DEPTH = 256;
/** Elements and texts of one drawing, about 200 bytes each in memory. */
export const MAX_NODES = 500_000;
/** Attributes of one element. */
export const MAX_ATTRIBUTES = 1_000;
/** Entities declared in the DOCTYPE: drawing programs write about ten. */
export const MAX_ENTITIES = 200;
/** Characters of one entity's value: they hold namespace addresses. */
export const MAX_ENTITY_CHARS = 4_096;
/** Characters that all uses of entities may add to a drawing. */
export const MAX_ENTITY_TOTAL = 1_000_000;
/** Curves of all shapes together, copies included: 48 bytes each, held twice while they are scaled. */
export const MAX_SEGMENTS = 2_000_000;
/** Characters of one path's data: more than that many curves need at the usual precision. */
export const MAX_PATH_CHARS = 16_000_000;
/** Elements visited while drawing, copies included. */
export const MAX_VISITS = 1_000_000;
/** Copies made by `use`, nested ones included. */
export const MAX_USE_COPIES = 100_000;
/** Levels of elements while drawing, `use` followed: guards the call stack. */
export const MAX_DRAW_DEPTH = 600;
/** Characters of all style sheets together. */
export const MAX_CSS_CHARS = 2_000_000;
/** Simple selectors tried while styles are looked up: about 1 s of work. */
export const MAX_SELECTOR_TESTS = 10_000_000;
/** Clips that bear on one shape. */
export const MAX_CLIPS = 64;
/** Notices that are listed one by one. */
export const MAX_NOTICES = 200;
/** Places farther out than this, mm, are a fault of the drawing: 1 km. */
export const MAX_COORDINATE_MM = 1e6;
/** The same while the scale is not known, pixels: beyond it doubles no longer hold a thousandth of a pixel. */
export const MAX_COORDINATE_PX = 1e12;
/** Sides of a unit, mm: what a knife can cut, and what fits a table. */
export const MIN_SIDE_MM = 5;
export const MAX_SIDE_MM = 3_000;
/** Bytes of one font file. */
export const MAX_FONT_BYTES = 32 * 1024 * 1024;
