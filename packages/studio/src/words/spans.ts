import type { Span } from '@okuri/core/inside';

/** The six distances between the corner holes, in a word or two. */
export const SPAN_NAMES: Readonly<Record<Span, string>> = {
  top: 'top',
  right: 'right',
  bottom: 'bottom',
  left: 'left',
  falling: 'diagonal, falling',
  rising: 'diagonal, rising',
};
