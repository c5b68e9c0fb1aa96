export type {
  ClipItem,
  Colour,
  Drawing,
  FaceMetrics,
  FontMetrics,
  Item,
  LayerItem,
  LineStyle,
  Page,
  PathItem,
  PlaceItem,
  TextItem,
} from './drawing/types.js';
export {
  boxContour,
  circleContour,
  contourArea,
  contoursBox,
  isStraight,
  polyline,
  reverseContour,
  segmentCount,
  transformContour,
  translateContour,
} from './geometry/contour.js';
export { apply, IDENTITY, invert, multiply, translation } from './geometry/matrix.js';
export type { Box, Contour, FillRule, Matrix, Point, Side } from './geometry/types.js';
export type { Job, Spill } from './job/types.js';
export type { Join } from './joins/types.js';
export type { Finding, Severity } from './motif/finding.js';
export type { Clip, Frame, FrameSource, Ink, Motif, Notice, Shape, Stroke } from './motif/types.js';
export type {
  Area,
  ClothTile,
  Fraction,
  Lattice,
  LatticeStep,
  Opening,
  Repeat,
  SeamEnd,
  SeamStretch,
  WindingRank,
} from './repeat/types.js';
export type { Dot, Measure, Sheet, SheetOpening, StopMark } from './stencil/types.js';
export { InputError } from './units/input-error.js';
