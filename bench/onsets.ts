/**
 * A picture of when the demo trio strikes, read off the rendered wave: every onset of each player by bar and beat, and how far
 * it lies from where even eighths would have it. For ears that want to see what is mechanical; figures: packages/sound/README.md.
 * Run: npx tsx bench/onsets.ts PICTURE.png [chorus, from 1]
 * Each player (the ride alone of the drums) is rendered by itself; an onset is where the difference between neighbouring samples,
 * which a stroke makes large, rises above what it was in the 25 ms before. Needs Debian's Chromium for the picture.
 */
import { writeFileSync } from 'node:fs';
import { NoteStore, renderSchedule, type Schedule } from '@fivespan/sound/engine';
import { openChromium } from '../checks/chromium.ts';
import { testBank } from '../checks/sound-bank.ts';
import { demoTrio } from './demo-trio.ts';

const RATE = 44_100;
const RIDE = 51;
const TEMPO_BPM = 132;
const BEAT_SECONDS = 60 / TEMPO_BPM;
const BARS = 16;
/** Of sticks before the first chorus. */
const COUNT_IN_BARS = 2;

interface Voice {
  readonly name: string;
  /** How much an onset rises above what rings on, at least. */
  readonly rise: number;
  readonly plays: (event: Schedule['events'][number], name: string) => boolean;
}

const VOICES: readonly Voice[] = [
  { name: 'ride', rise: 1.8, plays: ({ midi }, name) => name === 'drums' && midi === RIDE },
  { name: 'bass', rise: 1.4, plays: (_, name) => name === 'bass' },
  { name: 'left hand', rise: 1.5, plays: (_, name) => name === 'left hand' },
  { name: 'right hand', rise: 1.25, plays: (_, name) => name === 'right hand' },
];

/** Onsets in seconds. */
function onsetsOf(samples: Float32Array, rise: number): number[] {
  const hop = Math.round(RATE * 0.0005);
  const levels: number[] = [];
  for (let at = 1; at + 2 * hop <= samples.length; at += hop) {
    let most = 0;
    for (let index = at; index < at + 2 * hop; index++) {
      most = Math.max(most, Math.abs((samples[index] as number) - (samples[index - 1] as number)));
    }
    levels.push(most);
  }
  const floor = levels.reduce((most, level) => Math.max(most, level), 0) * 0.01;
  const found: number[] = [];
  for (const [each, level] of levels.entries()) {
    const before = Math.max(0, ...levels.slice(Math.max(0, each - 50), Math.max(0, each - 2)));
    const at = (each * hop) / RATE;
    if (level > floor && level > before * rise && at - (found.at(-1) ?? -1) > 0.05) found.push(at);
  }
  return found;
}

/** An onset's place: its bar, its half beat and how late it is there, in milliseconds. */
interface Place {
  readonly bar: number;
  readonly half: number;
  readonly lateMs: number;
}

/** The half beat an onset belongs to: swung off-beats lie from 0.35 to 0.85 of a beat. */
function placeOf(seconds: number): Place {
  const beats = seconds / BEAT_SECONDS;
  const share = beats - Math.floor(beats);
  const isOff = share > 0.35 && share < 0.85;
  const half = isOff ? Math.floor(beats) * 2 + 1 : Math.round(beats) * 2;
  return { bar: Math.floor(half / 8), half: half % 8, lateMs: (beats - half / 2) * BEAT_SECONDS * 1000 };
}

const mean = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;
const spread = (values: readonly number[]): number => Math.sqrt(mean(values.map((each) => (each - mean(values)) ** 2)));

/** How a deviation goes with the one before it: 1 as it, 0 at random. */
function kept(values: readonly number[]): number {
  const average = mean(values);
  return (
    mean(values.slice(1).map((each, index) => (each - average) * ((values[index] as number) - average))) /
    spread(values) ** 2
  );
}

const WIDTH = 1600;
const PANEL = WIDTH / VOICES.length;
const ROW = 30;

function panel({ name }: Voice, places: readonly Place[], index: number): string {
  const left = index * PANEL + 30;
  const width = PANEL - 60;
  const x = (beats: number): number => left + (beats / 4) * width;
  const lines = Array.from({ length: 9 }, (_, half) => {
    const at = x(half / 2);
    return `<line x1="${at}" x2="${at}" y1="60" y2="${60 + BARS * ROW}" stroke="#000" opacity="${half % 2 === 0 ? 0.4 : 0.12}"/>`;
  });
  const marks = places.map(({ bar, half, lateMs }) => {
    const at = x(half / 2 + lateMs / 1000 / BEAT_SECONDS);
    return `<line x1="${at}" x2="${at}" y1="${64 + bar * ROW}" y2="${84 + bar * ROW}" stroke="#000" stroke-width="2"/>`;
  });
  const rows = [0, 1].map((isOff) => {
    const top = 60 + BARS * ROW + 70 + isOff * 120;
    const late = places.filter(({ half }) => half % 2 === isOff).map(({ lateMs }) => lateMs);
    const centre = isOff === 0 ? 0 : 100;
    const at = (ms: number): number => left + width / 2 + Math.max(-1, Math.min(1, (ms - centre) / 60)) * (width / 2);
    const dots = late.map(
      (ms, each) => `<circle cx="${at(ms)}" cy="${top + 20 + ((each * 7) % 50)}" r="2.5" opacity="0.6"/>`,
    );
    const figures =
      late.length < 2 ? '' : `${mean(late).toFixed(0)} ± ${spread(late).toFixed(1)} ms, kept ${kept(late).toFixed(2)}`;
    return `<text x="${left}" y="${top}">${isOff === 0 ? 'on' : 'off'} the beat: ${late.length}, ${figures}</text>
<line x1="${at(centre)}" x2="${at(centre)}" y1="${top + 10}" y2="${top + 80}" stroke="#000" opacity="0.4"/><text x="${at(centre) + 3}" y="${top + 92}" opacity="0.6">${centre} ms</text>${dots.join('')}`;
  });
  return `<text x="${left}" y="40" font-weight="bold">${name}: ${places.length} onsets</text>${lines.join('')}${marks.join('')}${rows.join('')}`;
}

const [picture, number = '1'] = process.argv.slice(2);
const chorus = Number(number) - 1;
if (picture === undefined || !(Number.isInteger(chorus) && chorus >= 0 && chorus < 12)) {
  throw new Error('npx tsx bench/onsets.ts PICTURE.png [chorus, 1 to 12]');
}
const store = new NoteStore(await testBank(), RATE);
const trio = demoTrio(1, chorus + 1);
const from = (COUNT_IN_BARS + chorus * BARS) * 4 * BEAT_SECONDS;
const panels = VOICES.map((voice, index) => {
  const events = trio.events.filter((event) => voice.plays(event, trio.players[event.player]?.name ?? ''));
  const sound = renderSchedule(store, { ...trio, events });
  const places = onsetsOf(sound?.left ?? new Float32Array(0), voice.rise)
    .map((seconds) => placeOf(seconds - from))
    .filter(({ bar }) => bar >= 0 && bar < BARS);
  // a note due at the chorus's very first moment may come before it
  const due = events.filter(
    ({ startSeconds }) => startSeconds > from - 0.1 && startSeconds < from + BARS * 4 * BEAT_SECONDS - 0.1,
  );
  const struck = due.filter(({ startSeconds }, index) => startSeconds - (due[index - 1]?.startSeconds ?? -1) > 0.02);
  console.log(`${voice.name}: ${places.length} onsets found, ${struck.length} played`);
  return panel(voice, places, index);
});
const height = 60 + BARS * ROW + 320;
const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" font-family="sans-serif" font-size="14"><rect width="100%" height="100%" fill="#fff"/>${panels.join('')}</svg>`;
const browser = await openChromium();
const page = await browser.newPage({ viewport: { width: WIDTH, height } });
await page.setContent(`<body style="margin:0">${svg}</body>`);
writeFileSync(picture, await page.screenshot());
await browser.close();
