/**
 * Home keys, and the role of each chord, of chord sequences that a person analysed. Source: annotated jazz chord progression corpus (Granroth-Wilding &
 * Steedman; authors and licence in the data's README; values read from it: R).
 */
import { analyse, formatKey, keyIndexOf, NO_ANALYSIS_PINS, rankedKeys, type Key, type Role } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { corpusSequences, ENDS_AWAY } from '../jazz-corpus.ts';

const TICKS_A_BEAT = 960;

const CHAIN: readonly Role[] = ['predominant', 'applied predominant', 'dominant', 'applied dominant'];

/** Which of our roles say what the person's category says; the first that begins as theirs counts. docs/analysis.md has the table. */
const SAME_ROLES: readonly (readonly [category: string, roles: readonly Role[]])[] = [
  ['Dom-tritone', ['substitute dominant', ...CHAIN]],
  ['Dom-backdoor', ['backdoor dominant', 'backdoor predominant']],
  ['Dom-IVm', ['borrowed', 'backdoor predominant']],
  ['Dom-bartok', ['substitute dominant', ...CHAIN]],
  ['Dom', CHAIN],
  ['Ton', ['tonic', 'modal']],
  ['Subdom', ['predominant', 'borrowed']],
  ['Colour', ['predominant', 'borrowed']],
  ['Dim', ['passing diminished', 'auxiliary diminished', 'dominant']],
  ['Pass', ['passing diminished', 'auxiliary diminished']],
  ['Aug', ['dominant', 'applied dominant', 'substitute dominant']],
];

describe.skipIf(corpusSequences === null)(
  `analysed sequences${corpusSequences === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    test('the home key is the labelled one in at least 94 %, and in all that end at home', () => {
      const all = corpusSequences ?? [];
      const wrong = all.flatMap(({ name, key, chart }) => {
        const found = rankedKeys(chart)[0]?.key as Key;
        return keyIndexOf(found) === keyIndexOf(key) ? [] : [{ name, key, found }];
      });
      console.info(`home key: ${all.length - wrong.length} of ${all.length}`);
      for (const { name, key, found } of wrong) console.info(`  ${name}: ${formatKey(key)}, found ${formatKey(found)}`);
      expect(all.length).toBe(75);
      expect((all.length - wrong.length) / all.length).toBeGreaterThanOrEqual(0.94);
      expect(wrong.filter(({ name }) => !ENDS_AWAY.has(name))).toEqual([]);
    });

    test('five chords of six have the role the person gave them, whose chains reach further than ours', () => {
      const table = new Map<string, { count: number; same: number; roles: Map<Role, number> }>();
      for (const { key, chart, categories, startBeats } of corpusSequences ?? []) {
        const { slots } = analyse({ ...chart, key }, NO_ANALYSIS_PINS);
        const roleAt = new Map(slots.map(({ played, reading }) => [played.startTicks, reading.role]));
        for (const [index, beat] of startBeats.entries()) {
          const role = roleAt.get(beat * TICKS_A_BEAT);
          const found = SAME_ROLES.find(([category]) => categories[index]?.startsWith(category) === true);
          if (role === undefined || found === undefined) throw new TypeError(`no role for ${categories[index]}`);
          const [category, same] = found;
          const row = table.get(category) ?? { count: 0, same: 0, roles: new Map<Role, number>() };
          row.count++;
          if (same.includes(role)) row.same++;
          row.roles.set(role, (row.roles.get(role) ?? 0) + 1);
          table.set(category, row);
        }
      }
      const rows = [...table.values()];
      const [count, same] = [
        rows.reduce((sum, row) => sum + row.count, 0),
        rows.reduce((sum, row) => sum + row.same, 0),
      ];
      console.info(`roles: ${same} of ${count} as the person`);
      for (const [category, row] of table) {
        const roles = [...row.roles].toSorted((a, b) => b[1] - a[1]).map(([role, times]) => `${role} ${times}`);
        console.info(`  ${category}: ${row.same} of ${row.count} (${roles.join(', ')})`);
      }
      expect(count).toBeGreaterThan(3000);
      expect(same / count).toBeGreaterThanOrEqual(0.83);
      for (const category of ['Dom', 'Ton'] as const) {
        const row = table.get(category);
        expect((row?.same ?? 0) / (row?.count ?? 1), category).toBeGreaterThanOrEqual(0.8);
      }
    });
  },
);
