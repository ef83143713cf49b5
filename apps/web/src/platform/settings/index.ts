/** What this browser's user prefers: small things kept beside the lessons, of which nothing is lost if they are. */
import { atom } from 'nanostores';
import * as v from 'valibot';

const OWN_WORDS = v.pipe(v.string(), v.maxLength(500));

const SETTINGS = v.object({
  theme: v.optional(v.picklist(['system', 'light', 'dark']), 'system'),
  /** Names of notes: C D E, C D E with H and B, Do Re Mi. Chord symbols stay as written. */
  noteNames: v.optional(v.picklist(['english', 'german', 'do re mi']), 'english'),
  paper: v.optional(v.picklist(['a4', 'letter']), 'a4'),
  /** Loudness of everything that sounds, linear; moderate by default. */
  soundLevel: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1)), 0.6),
  /** What starts and stops playing besides the space bar: a key, as page turners send it, or a MIDI controller. */
  pedal: v.optional(
    v.variant('kind', [
      v.object({ kind: v.literal('key'), key: v.pipe(v.string(), v.minLength(1), v.maxLength(30)) }),
      v.object({
        kind: v.literal('controller'),
        controller: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(127)),
      }),
    ]),
    { kind: 'key', key: 'PageDown' },
  ),
  /** What play view shows: the route's one way, or all that a free hand may do. */
  way: v.optional(v.picklist(['one way', 'free hand']), 'one way'),
  /** From a key to the program, measured by tapping; taken off what is heard. */
  keyDelayMs: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(500)), 0),
  /** Whether keys that are struck sound here, and how loud: a keyboard may have a sound of its own. */
  keyboardSounds: v.optional(v.boolean(), true),
  keyboardLevel: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2)), 1),
  /** Whether the computer's own keys play. */
  computerKeys: v.optional(v.boolean(), true),
  /** When a pass counts as clean: chords met and keys outside, of a hundred, and how many such passes climb. Our own: one in ten may miss. */
  criterion: v.optional(
    v.object({
      metPercent: v.pipe(v.number(), v.integer(), v.minValue(10), v.maxValue(100)),
      outsidePercent: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(100)),
      passes: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(10)),
    }),
    { metPercent: 90, outsidePercent: 10, passes: 2 },
  ),
  /** Whether the chart's text stands beside its bars. */
  chartText: v.optional(v.boolean(), false),
  /** The lesson that was opened last: the one that is gone on with. Empty where none was. */
  lastLesson: v.optional(v.string(), ''),
  /** A teacher's own words for what a take shows, by code; what is empty is said in ours. */
  takeWords: v.optional(
    v.pipe(
      v.record(v.pipe(v.string(), v.maxLength(60)), v.object({ heard: OWN_WORDS, step: OWN_WORDS })),
      v.check((words) => Object.keys(words).length <= 100),
    ),
    {},
  ),
  tourSeen: v.optional(v.boolean(), false),
  cautionsSeen: v.optional(v.boolean(), false),
});
export type Settings = v.InferOutput<typeof SETTINGS>;

const KEY = 'fivespan.settings';

function stored(): Settings {
  try {
    const read = v.safeParse(SETTINGS, JSON.parse(localStorage.getItem(KEY) ?? '{}'));
    if (read.success) return read.output;
  } catch {
    // storage refused, or damaged text: the defaults do
  }
  return v.parse(SETTINGS, {});
}

export const $settings = atom<Settings>(stored());

/** Changes some settings and keeps them where the browser allows it. */
export function changeSettings(change: Partial<Settings>): void {
  $settings.set({ ...$settings.get(), ...change });
  try {
    localStorage.setItem(KEY, JSON.stringify($settings.get()));
  } catch {
    // refused: they hold until the page is closed
  }
}

/** Shows the theme chosen from now on. Called once, when the application starts. */
export function watchTheme(): void {
  $settings.subscribe(({ theme }) => {
    const root = document.documentElement;
    if (theme === 'system') delete root.dataset.theme;
    else root.dataset.theme = theme;
  });
}
