/** Source: issue 'Practice with a free hand', Checks: "The tabs shown equal the families of the analysis for every slot of all examples in 12 keys (from the DOM)". */
import { readdirSync, readFileSync } from 'node:fs';
import {
  allowedFamilies,
  analyse,
  containsSet,
  DEFAULT_CHOICES,
  maskOf,
  NO_ANALYSIS_PINS,
  NO_PLAN_PINS,
  planRoute,
  readChart,
  transposeChart,
  transposeSet,
  usualKeys,
} from '@fivespan/core';
import { noteText } from '@fivespan/formats/diagram';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, test } from 'vitest';
import { freeTabs } from './free-content.ts';
import { freeRows, type FreeRoom } from './free-tabs.ts';
import { FreeTabs } from './FreeTabs.tsx';
import { keyRects } from './key-rects.ts';
import { freeStretch } from './stage-stretch.ts';

const EXAMPLES = new URL('../../../../../examples/', import.meta.url);
const WIDTH = 968;

test('the tabs in the document are those of the families, and of all keys shown, in every example and key', () => {
  const shown = freeStretch(WIDTH);
  const rects = new Map(keyRects(shown.lowest, shown.highest, WIDTH, 200).map((key) => [key.midi as number, key]));
  const room: FreeRoom = {
    widthPx: WIDTH,
    whitePx: rects.get(shown.lowest)?.width ?? 1,
    tabPx: 57,
    comingPx: 40,
    centreOf: (key) => rects.get(key)?.centre,
  };
  const thumbText = { printed: noteText, said: noteText };
  const { hand } = DEFAULT_CHOICES;
  const wrong: string[] = [];
  let [slots, seconds] = [0, 0];
  const keysSeen = new Set<string>();
  const charts = readdirSync(EXAMPLES).filter((each) => each.endsWith('.chart'));
  for (const name of charts) {
    const read = readChart(readFileSync(new URL(name, EXAMPLES), 'utf8'));
    if (!read.ok) throw new TypeError(name);
    const home = analyse(read.value, NO_ANALYSIS_PINS).key;
    const keys = usualKeys(home.mode);
    const sounds = keys.map(({ tonic }) => (((tonic * 7) % 12) + 12) % 12);
    for (const key of keys.filter((_, at) => sounds.indexOf(sounds[at] as number) === at)) {
      const analysis = analyse(transposeChart(read.value, key, home), NO_ANALYSIS_PINS);
      // a second family over every chord whose ladder has another rung: the next, or the last and farthest outside, in turn
      const secondScales = analysis.slots.flatMap(({ played, chordScales }) => {
        const { id } = (played.index % 2 === 0 ? chordScales[1] : chordScales.at(-1)) ?? {};
        return id === undefined ? [] : [{ slot: played.slot.id, pass: played.playedBar.pass, chordScale: id }];
      });
      const allowed = allowedFamilies({ ...NO_PLAN_PINS, secondScales }, hand);
      keysSeen.add(`${name} ${key.tonic}`);
      const looked = new Set<string>();
      for (const slot of planRoute(analysis, { pins: NO_PLAN_PINS, hand, level: 1 }).slots) {
        const families = allowed(slot);
        slots++;
        if (families.length === 2) seconds++;
        const sign = families
          .map(({ family, chordScale, positions }) =>
            [family.shape.id, chordScale.set, ...positions.map(({ thumb }) => thumb)].join(),
          )
          .join(' and ');
        if (families.length === 0 || looked.has(sign)) continue;
        looked.add(sign);
        const marked = families.map((each) => ({ ...each, mark: '' }));
        const tabs = freeTabs(marked, thumbText, { isComing: false, place: null });
        const rows = freeRows([tabs], room);
        const markup = renderToStaticMarkup(
          <FreeTabs tabs={tabs} rows={rows} room={room} lengthPx={200} frontOf={() => 190} onTab={undefined} />,
        );
        const found = [
          ...markup.matchAll(/data-key-of-tab="(\d+)" data-family="(\w+)".*?<text[^>]*>([^<]*)<\/text>/gu),
        ].map(([, key = '', which = '', text = '']) => `${which} ${key} ${text}`);
        const expected = families.flatMap(({ which, family: { shape }, chordScale: { set }, positions }) => {
          const names = new Map(positions.map(({ thumb }) => [(((thumb * 7) % 12) + 12) % 12, noteText(thumb)]));
          const keys = Array.from({ length: shown.highest - shown.lowest + 1 }, (_, at) => shown.lowest + at);
          return keys
            .filter((thumb) => containsSet(set, transposeSet(maskOf(shape), thumb)))
            .map((thumb) => `${which} ${thumb} ${names.get(thumb % 12) ?? '?'}`);
        });
        if (found.toSorted().join() !== expected.toSorted().join()) {
          wrong.push(`${name} ${key.tonic} ${sign}: ${found.join()}, not ${expected.join()}`);
        }
      }
    }
  }
  expect(slots).toBeGreaterThan(500);
  expect(seconds).toBeGreaterThan(300);
  expect(keysSeen.size).toBe(12 * charts.length);
  expect(wrong).toEqual([]);
});
