/** The sizes a hand comes in. */
export const NAMED_HANDS = ['small', 'medium', 'large'] as const;

/** How wide the hand opens: one of three sizes, or its measured span from thumb to little finger, tip to tip. */
export type HandSize = (typeof NAMED_HANDS)[number] | { readonly spanMm: number };

/**
 * What a named size stands for, in millimetres from the tip of the thumb to the tip of the little finger, by the published
 * zones (Boyle, Boyle, Booker 2015, as paskpiano.org gives them; R): small is half an inch inside zone A (below 7.6 in), so that
 * what it is given suits hands in most of that zone; medium the mean of men, about 8.9 in, in zone C; large where zone D
 * begins, 9.4 in. The points within the zones are our choice; a measured span is better than any of them.
 */
const SPAN_OF_SIZE_MM = { small: 180, medium: 227, large: 239 } as const;

/** Where the zones part, in millimetres: 8.5 in ('tension-free octaves') and 9.4 in. Source: docs/sources.md, 1. */
const MEDIUM_FROM_MM = 216;
const LARGE_FROM_MM = 239;

/** Spans a measured hand can have; a number outside is no span in millimetres, or a slip. From memory. */
export const NARROWEST_SPAN_MM = 120;
export const WIDEST_SPAN_MM = 320;

/**
 * The span of a hand in millimetres.
 * @throws RangeError where a measured span is no number from 120 to 320.
 */
export function spanMmOf(hand: HandSize): number {
  if (typeof hand === 'string') return SPAN_OF_SIZE_MM[hand];
  if (!(hand.spanMm >= NARROWEST_SPAN_MM && hand.spanMm <= WIDEST_SPAN_MM)) {
    throw new RangeError(`spanMm must be a number from ${NARROWEST_SPAN_MM} to ${WIDEST_SPAN_MM}, not ${hand.spanMm}`);
  }
  return hand.spanMm;
}

/** The size a hand counts as, for tables that know three: small below 8.5 in, large from 9.4 in. */
export function sizeClassOf(hand: HandSize): (typeof NAMED_HANDS)[number] {
  if (typeof hand === 'string') return hand;
  const span = spanMmOf(hand);
  return span < MEDIUM_FROM_MM ? 'small' : span < LARGE_FROM_MM ? 'medium' : 'large';
}
