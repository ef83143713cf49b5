/** From a key to the program: measured once by tapping to a click, and taken off what is heard. */
import { $settings, changeSettings } from '../settings/index.ts';
import { hear, stopHearing } from './hear.ts';
import { onStrike } from './keyboard.ts';

const CLICKS = 10;
const CLICK_SECONDS = 0.6;
/** The first clicks are listened to. */
const FIRST_COUNTED = 2;
const LEAST_TAPS = 4;
const MOST_DELAY_MS = 500;

/** The middle one of the taps' distances from their nearest clicks, in milliseconds, 0 to 500; null where there are too few. */
export function delayOf(tapSeconds: readonly number[]): number | null {
  const late = tapSeconds
    .filter((seconds) => seconds > (FIRST_COUNTED - 0.5) * CLICK_SECONDS)
    .map((seconds) => (seconds - Math.round(seconds / CLICK_SECONDS) * CLICK_SECONDS) * 1000)
    .toSorted((a, b) => a - b);
  if (late.length < LEAST_TAPS) return null;
  return Math.round(Math.max(0, Math.min(MOST_DELAY_MS, late[Math.floor(late.length / 2)] ?? 0)));
}

/** Plays clicks and listens to taps. Call from a key or click. @returns what was measured and is kept; null where too few were tapped */
export async function measureDelay(): Promise<number | null> {
  const clicks = Array.from({ length: CLICKS }, (_, click) => ({
    startSeconds: click * CLICK_SECONDS,
    durationSeconds: 0.1,
    midi: 84,
    velocity: 80,
  }));
  const hearing = await hear(clicks);
  if (hearing === undefined) return null;
  const taps: number[] = [];
  const end = onStrike(() => {
    const place = hearing.at();
    if (place.kind === 'sounding') taps.push(place.seconds);
  });
  await new Promise((resolve) => setTimeout(resolve, (CLICKS + 1) * CLICK_SECONDS * 1000));
  end();
  stopHearing();
  const delay = delayOf(taps);
  if (delay !== null && delay !== $settings.get().keyDelayMs) changeSettings({ keyDelayMs: delay });
  return delay;
}
