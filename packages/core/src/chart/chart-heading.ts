import type { IssueArgs, IssueCode } from '../issue/index.ts';
import { parseKey, type Key } from '../theory/index.ts';
import type { Feel } from './chart.ts';
import { readMeter, type Meter } from './meter.ts';
import type { HeaderName } from './chart-line.ts';

/** What a chart says before its first bar. */
export interface Heading {
  title: string;
  key: Key | null;
  meter: Meter;
  tempoBpm: number | null;
  feel: Feel;
  /** Beats of the pickup; 0 for none. Whether they fit a bar is known when the first bar is read. */
  pickupBeats: number;
}

/** A chart that says nothing: no title, key or tempo, in four, swinging. */
export function emptyHeading(): Heading {
  return { title: '', key: null, meter: { count: 4, unit: 4 }, tempoBpm: null, feel: 'swing', pickupBeats: 0 };
}

export const LONGEST_NAME = 200;
const SLOWEST_BPM = 20;
const FASTEST_BPM = 400;

/** A header's value put into a heading; what is wrong with it, or undefined. */
export function readHeader(
  heading: Heading,
  name: HeaderName,
  value: string,
): { readonly code: IssueCode; readonly args: IssueArgs } | undefined {
  switch (name) {
    case 'title': {
      if (value.length > LONGEST_NAME) {
        return { code: 'chart.name-too-long', args: { what: 'title', limit: LONGEST_NAME } };
      }
      heading.title = value;
      return undefined;
    }
    case 'key': {
      const key = parseKey(value);
      if (key === undefined) return { code: 'chart.key', args: { value } };
      heading.key = key;
      return undefined;
    }
    case 'meter': {
      const meter = readMeter(value);
      if (meter === undefined) return { code: 'chart.meter', args: { value } };
      heading.meter = meter;
      return undefined;
    }
    case 'tempo': {
      const tempoBpm = Number(/^(\d{2,3})(?:\s*bpm)?$/u.exec(value)?.[1]);
      if (!(tempoBpm >= SLOWEST_BPM && tempoBpm <= FASTEST_BPM)) return { code: 'chart.tempo', args: { value } };
      heading.tempoBpm = tempoBpm;
      return undefined;
    }
    case 'feel': {
      const feel = value.toLowerCase();
      if (feel !== 'swing' && feel !== 'even') return { code: 'chart.feel', args: { value } };
      heading.feel = feel;
      return undefined;
    }
    case 'pickup': {
      if (!/^[1-9]\d?$/u.test(value)) return { code: 'chart.pickup', args: { value, beats: 'any metre' } };
      heading.pickupBeats = Number(value);
      return undefined;
    }
  }
}
