import type { Form } from '../../chart/index.ts';
import type { Key } from '../../theory/index.ts';
import type { AnalysisPins } from '../analysis.ts';
import type { HarmonicEvent } from './event.ts';
import type { Ground } from './ground.ts';
import { REGION_KEY_COUNT } from './key-costs.ts';
import { keyIndexOf } from './key-spelling.ts';
import { formatNumeral } from './numeral.ts';

interface SlotName {
  readonly slot: string;
  readonly pass: number;
}

/** Index in the form of the slot a pin names, or undefined where it is not there (any more). */
function indexOfPin(form: Form, pin: SlotName): number | undefined {
  const index = form.slots.findIndex(({ slot, playedBar }) => slot.id === pin.slot && playedBar.pass === pin.pass);
  return index < 0 ? undefined : index;
}

/** Slots at which a pin begins: a chord that goes on is cut there. */
export function pinnedSlots(form: Form, pins: AnalysisPins): ReadonlySet<number> {
  const named = [...pins.regions, ...pins.numerals].map((pin) => indexOfPin(form, pin));
  return new Set(named.filter((each) => each !== undefined));
}

/** The slot after an event's last. */
function afterOf(event: HarmonicEvent): number {
  return (event.slots.at(-1) ?? -1) + 1;
}

/**
 * The ground with all taken away that the teacher's pins rule out: other keys in a fixed stretch, other numerals at a fixed chord.
 * A numeral that no reading of the chord has is passed over.
 */
export function pinned(
  ground: Ground,
  form: Form,
  pins: AnalysisPins,
): { ground: Ground; fixedKeys: ReadonlyMap<number, Key> } {
  const fixedKeys = new Map<number, Key>();
  if (pins.regions.length === 0 && pins.numerals.length === 0) return { ground, fixedKeys };
  const keyFrom = new Map<number, Key>();
  for (const pin of pins.regions) {
    const slot = indexOfPin(form, pin);
    if (slot !== undefined) keyFrom.set(slot, pin.key);
  }
  const numeralAt = new Map<number, string>();
  for (const pin of pins.numerals) {
    const slot = indexOfPin(form, pin);
    if (slot !== undefined) numeralAt.set(slot, pin.numeral);
  }
  const starts = [...keyFrom].sort(([a], [b]) => a - b);
  const functions = ground.functions.map((byKey, index) => {
    const event = ground.events[index];
    const [first] = event?.slots ?? [];
    if (event === undefined || first === undefined) return byKey;
    const fixed = starts.findLast(([slot]) => slot <= first)?.[1];
    const numeral = numeralAt.get(first);
    let allowed = byKey;
    // a fixed stretch begins where the teacher says, so the free chord before it is in another key
    const opening = fixed === undefined ? starts.find(([slot]) => slot === afterOf(event))?.[1] : undefined;
    if (opening !== undefined) {
      allowed = allowed.map((choices, key) => (key % REGION_KEY_COUNT === keyIndexOf(opening) ? [] : choices));
    }
    if (fixed !== undefined) {
      fixedKeys.set(index, fixed);
      allowed = allowed.map((choices, key) => (key % REGION_KEY_COUNT === keyIndexOf(fixed) ? choices : []));
    }
    if (numeral === undefined) return allowed;
    const named = allowed.map((choices, key) =>
      choices.filter((chosen) => {
        const place = (event.root - (key % 12) + 12) % 12;
        return formatNumeral(event, place, chosen) === numeral;
      }),
    );
    return named.slice(0, REGION_KEY_COUNT).some((choices) => choices.length > 0) ? named : allowed;
  });
  return { ground: { ...ground, functions }, fixedKeys };
}
