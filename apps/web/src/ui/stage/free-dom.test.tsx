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
  let slots = 0;
  for (const name of readdirSync(EXAMPLES).filter((each) => each.endsWith('.chart'))) {
    const read = readChart(readFileSync(new URL(name, EXAMPLES), 'utf8'));
    if (!read.ok) throw new TypeError(name);
    const home = analyse(read.value, NO_ANALYSIS_PINS).key;
    for (const key of usualKeys(home.mode)) {
      const analysis = analyse(transposeChart(read.value, key, home), NO_ANALYSIS_PINS);
      const allowed = allowedFamilies(NO_PLAN_PINS, hand);
      const looked = new Set<string>();
      for (const slot of planRoute(analysis, { pins: NO_PLAN_PINS, hand, level: 1 }).slots) {
        const [family] = allowed(slot);
        slots++;
        if (family === undefined) continue;
        const { shape } = family.family;
        const { set, id } = family.chordScale;
        const sameFamily = `${shape.id} ${set} ${family.positions.map(({ thumb }) => thumb).join()}`;
        if (looked.has(sameFamily)) continue;
        looked.add(sameFamily);
        const tabs = freeTabs([{ ...family, mark: '' }], thumbText, { isComing: false, place: null });
        const rows = freeRows([tabs], room);
        const markup = renderToStaticMarkup(
          <FreeTabs tabs={tabs} rows={rows} room={room} lengthPx={200} frontOf={() => 190} onTab={undefined} />,
        );
        const found = [...markup.matchAll(/data-key-of-tab="(\d+)".*?<text[^>]*>([^<]*)<\/text>/gu)].map(
          ([, midi = '', text = '']) => `${midi} ${text}`,
        );
        const names = new Map(family.positions.map(({ thumb }) => [(((thumb * 7) % 12) + 12) % 12, noteText(thumb)]));
        const expected: string[] = [];
        for (let thumb = shown.lowest as number; thumb <= shown.highest; thumb++) {
          if (containsSet(set, transposeSet(maskOf(shape), thumb)))
            expected.push(`${thumb} ${names.get(thumb % 12) ?? '?'}`);
        }
        if (found.toSorted().join() !== expected.toSorted().join()) {
          wrong.push(`${name} ${key.tonic} ${id}: ${found.join()}, not ${expected.join()}`);
        }
      }
    }
  }
  expect(slots).toBeGreaterThan(500);
  expect(wrong).toEqual([]);
});
