import {
  appendBar,
  insertBarAfter,
  insertBarBefore,
  placesOf,
  removeBar,
  renameSection,
  setBarChords,
  setBarMeter,
  setEnding,
  setHeading,
  setJump,
  setKeyChange,
  setMark,
  setRepeatEnd,
  setRepeatStart,
  startSection,
  type HeaderName,
  type Jump,
  type Key,
  type MarkName,
  type Meter,
} from '@fivespan/core';
import { $open, changeLesson } from '../open-lesson/index.ts';
import { $chosenBar, barCount, beginEdit, changeText, chooseBar, endEdit } from './editing.ts';
import { $places } from './page-view.ts';

/** Puts a new bar after one, and begins to write it. */
export function newBarAfter(index: number): void {
  if (index < barCount()) changeText((text) => insertBarAfter(text, index));
  beginEdit(Math.min(index + 1, barCount()), index < barCount() ? '' : undefined);
}

/** Puts a new bar before one, and begins to write it. */
export function newBarBefore(index: number): void {
  if (index >= barCount()) {
    beginEdit(barCount());
    return;
  }
  changeText((text) => insertBarBefore(text, index));
  beginEdit(index, '');
}

export function takeBarOut(index: number): void {
  if (index < barCount()) changeText((text) => removeBar(text, index));
  chooseBar(index);
}

/** Nobody plays in the bar. */
export function emptyBar(index: number): void {
  if (index < barCount()) changeText((text) => setBarChords(text, index, ''));
}

/** Chords of several bars, between bar lines or on lines of their own, written from a bar on; past the last as new bars. */
export function writeBars(index: number, chords: string): void {
  const bars = chords
    .split(/[\n\r|]+/u)
    .map((each) => each.trim())
    .filter((each) => each !== '');
  changeText((before) => {
    let text = before;
    for (const [offset, bar] of bars.entries()) {
      text =
        index + offset < placesOf(text).bars.length ? setBarChords(text, index + offset, bar) : appendBar(text, bar);
    }
    return text;
  });
  chooseBar(index + bars.length - 1);
}

export function writeHeading(name: HeaderName, value: string): void {
  changeText((text) => setHeading(text, name, value), `heading ${name}`);
}

/** Begins a section at a bar under a name, renames it, or joins it to the one before where the name is empty. */
export function writeSection(index: number, name: string): void {
  const section = $places.get().bars[index]?.section;
  const place = section === undefined ? undefined : $places.get().sections[section];
  if (section === undefined || place === undefined) return;
  const isNamedHere = place.firstBar === index && place.name !== null;
  if (name.trim() === '') {
    if (isNamedHere) changeText((text) => renameSection(text, section, ''), `section ${index}`);
  } else {
    changeText((text) => startSection(text, index, name), `section ${index}`);
  }
}

export function beginRepeat(index: number, isThere: boolean): void {
  changeText((text) => setRepeatStart(text, index, isThere));
}

/** @param times null for no repeat that ends here */
export function endRepeat(index: number, times: number | null): void {
  changeText((text) => setRepeatEnd(text, index, times), `repeat ${index}`);
}

/** @param numbers empty for no ending that begins here */
export function beginEnding(index: number, numbers: readonly number[]): void {
  changeText((text) => setEnding(text, index, numbers));
}

/** @param meter null for the metre before */
export function writeMeter(index: number, meter: Meter | null): void {
  changeText((text) => setBarMeter(text, index, meter));
}

/** @param key null for the key before */
export function writeKey(index: number, key: Key | null): void {
  changeText((text) => setKeyChange(text, index, key));
}

export function putMark(index: number, mark: MarkName, isThere: boolean): void {
  changeText((text) => setMark(text, index, mark, isThere));
}

export function putJump(index: number, jump: Jump | null): void {
  changeText((text) => setJump(text, index, jump));
}

let textRun = 0;
let lastTypedMs = 0;
const PAUSE_MS = 1_000;

/**
 * The text as it was typed in the text form. A pause, a bar line or a new line ends what is undone together.
 * @param timeMs when it was typed, on the clock of input events
 */
export function writeText(chartText: string, timeMs: number): void {
  const before = $open.get()?.chartText ?? '';
  const isOneMore = chartText.length === before.length + 1;
  if (timeMs - lastTypedMs > PAUSE_MS || Math.abs(chartText.length - before.length) > 1) textRun++;
  lastTypedMs = timeMs;
  endEdit();
  changeLesson({ chartText, together: `text ${textRun}` });
  if (isOneMore && chartText.split(/[|\n]/u).length > before.split(/[|\n]/u).length) textRun++;
  chooseBar($chosenBar.get());
}
