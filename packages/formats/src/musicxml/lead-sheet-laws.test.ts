import fc from 'fast-check';
import {
  barTicksOf,
  beatTicksOf,
  readChart,
  readChordSymbol,
  unfold,
  usualKeys,
  writeChart,
  type Bar,
  type Chart,
  type ChordSymbol,
  type Meter,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { readMusicXml, writeLeadSheet } from './index.ts';
import { chart, harmony, warnings } from './invented-lead-sheet.ts';

const SEED = 20261125;

function chordOf(symbol: string): ChordSymbol {
  const read = readChordSymbol(symbol);
  if (!read.ok) throw new TypeError(symbol);
  return read.value;
}

/** A chart without its ids: those are the reader's own. */
function withoutIds(value: Chart): unknown {
  return {
    ...value,
    sections: value.sections.map(({ name, bars }) => ({
      name,
      bars: bars.map(({ id: _id, slots, ...rest }) => ({
        ...rest,
        slots: slots.map(({ id: _slot, ...slot }) => slot),
      })),
    })),
  };
}

describe('law: a chart written as a lead sheet and read again is the same chart', () => {
  const METERS: readonly Meter[] = [
    { count: 4, unit: 4 },
    { count: 3, unit: 4 },
    { count: 5, unit: 4 },
    { count: 6, unit: 8 },
    { count: 12, unit: 8 },
    { count: 7, unit: 8 },
    { count: 2, unit: 2 },
  ];
  const SYMBOLS =
    'C Fm7 Bb7(b9) Ebmaj7(#11) Am7b5 D7alt Gm(maj7) F#dim7 Db6/9 N.C. B13sus E+7 Ab/C F7(#9,b13) Cm6 G9sus A7(b9,13) Dm11 Gm13 C5 F(add9) Bbmaj13'
      .split(' ')
      .map(chordOf);
  const KEYS = [...usualKeys('major'), ...usualKeys('minor')];
  const NO_MARKS = { segno: false, coda: false, fine: false, toCoda: false };

  const bars = fc.constantFrom(...METERS).chain((meter) => {
    // chords on beats, on halves, thirds and quarters of them
    const steps = fc.constantFrom(1, 2, 3, 4).map((parts) => beatTicksOf(meter) / parts);
    return steps.chain((step) =>
      fc.record({
        meter: fc.constant(meter),
        starts: fc
          .uniqueArray(fc.integer({ min: 1, max: Math.max(1, barTicksOf(meter) / step - 1) }), { maxLength: 3 })
          .map((places) => places.map((place) => place * step).filter((each) => each < barTicksOf(meter))),
        chords: fc.array(fc.constantFrom(...SYMBOLS), { minLength: 4, maxLength: 4 }),
        keyChange: fc.option(fc.constantFrom(...KEYS), { freq: 6 }),
      }),
    );
  });
  const names = fc.constantFrom('A', 'B', 'Bridge', 'Coda', 'A & B', '<C>');

  const charts = fc
    .record({
      title: fc.constantFrom('', 'Lantern & Ferry', 'Öse <2>'),
      key: fc.option(fc.constantFrom(...KEYS)),
      tempoBpm: fc.option(fc.integer({ min: 30, max: 320 })),
      feel: fc.constantFrom('swing' as const, 'even' as const),
      hasPickup: fc.boolean(),
      sections: fc.array(fc.tuple(names, fc.array(bars, { minLength: 1, maxLength: 5 })), {
        minLength: 1,
        maxLength: 3,
      }),
      form: fc.constantFrom('plain', 'repeat', 'three times', 'endings', 'da capo', 'dal segno'),
      hasFirstName: fc.boolean(),
    })
    .map(({ title, key, tempoBpm, feel, hasPickup, sections, form, hasFirstName }): Chart => {
      let number = 0;
      let before: Meter | undefined;
      const written = sections.map(([name, each], sectionIndex) => ({
        id: `section-${sectionIndex + 1}`,
        name: sectionIndex === 0 && !hasFirstName ? null : name,
        bars: each.map(({ meter, starts, chords, keyChange }): Bar => {
          const isFirst = number === 0;
          number++;
          before = meter;
          const edges = [0, ...starts.sort((a, b) => a - b)];
          return {
            id: `bar-${number}` as Bar['id'],
            number,
            meter,
            keyChange: isFirst ? null : keyChange,
            durationTicks: barTicksOf(meter),
            slots: edges.map((startTicks, index) => ({
              id: `slot-${number}-${index}` as Bar['slots'][number]['id'],
              startTicks,
              durationTicks: (edges[index + 1] ?? barTicksOf(meter)) - startTicks,
              chord: chords[index] ?? chordOf('C'),
            })),
            startsRepeat: false,
            endsRepeatTimes: 0,
            endings: [],
            startsEnding: false,
            marks: NO_MARKS,
            jump: null,
          };
        }),
      }));
      const all = written.flatMap((section) => section.bars);
      const meter = all[0]?.meter ?? (before as Meter);
      const change = (index: number, more: Partial<Bar>): void => {
        const old = all[index];
        for (const section of written) {
          const place = section.bars.findIndex((bar) => bar.id === old?.id);
          if (old !== undefined && place >= 0) section.bars[place] = all[index] = { ...old, ...more };
        }
      };
      const last = all.length - 1;
      if (form === 'repeat' || form === 'three times') {
        change(0, { startsRepeat: true });
        change(last, { endsRepeatTimes: form === 'repeat' ? 2 : 3 });
      } else if (form === 'endings' && last >= 2) {
        change(0, { startsRepeat: true });
        change(last - 1, { endings: [1], startsEnding: true, endsRepeatTimes: 2 });
        change(last, { endings: [2], startsEnding: true });
      } else if (form === 'da capo' && last >= 2) {
        change(1, { marks: { ...NO_MARKS, fine: true } });
        change(last, { jump: { kind: 'da capo', until: 'fine' } });
      } else if (form === 'dal segno' && last >= 3) {
        change(0, { marks: { ...NO_MARKS, segno: true } });
        change(1, { marks: { ...NO_MARKS, toCoda: true } });
        change(2, { jump: { kind: 'dal segno', until: 'coda' } });
        change(3, { marks: { ...NO_MARKS, coda: true } });
      }
      if (hasPickup && barTicksOf(meter) > beatTicksOf(meter) && form !== 'repeat') {
        const pickup: Bar = {
          ...(all[0] as Bar),
          id: 'bar-0' as Bar['id'],
          number: 0,
          durationTicks: beatTicksOf(meter),
          slots: [
            {
              id: 'slot-0' as Bar['slots'][number]['id'],
              startTicks: 0,
              durationTicks: beatTicksOf(meter),
              chord: chordOf('C7'),
            },
          ],
          startsRepeat: false,
          endsRepeatTimes: 0,
          marks: NO_MARKS,
          jump: null,
        };
        written[0]?.bars.unshift(pickup);
      }
      return { title, key, meter, tempoBpm, feel, sections: written };
    });

  test('in every metre, key and form', () => {
    fc.assert(
      fc.property(charts, (original) => {
        const read = readMusicXml(writeLeadSheet(original));
        expect(withoutIds(chart(read))).toEqual(withoutIds(original));
        expect(warnings(read)).toEqual([]);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});

describe('law: whatever is read can be played out and said in the chart text', () => {
  const barline = (where: string, inside: string): string =>
    inside === '' ? '' : `<barline location="${where}">${inside}</barline>`;
  const words = (each: string): string =>
    `<direction><direction-type><words>${each}</words></direction-type></direction>`;
  const measure = fc
    .record({
      left: fc.constantFrom('', '', '', '<repeat direction="forward"/>'),
      opens: fc.constantFrom('', '', '', '1', '2', '1,2', '3'),
      closes: fc.boolean(),
      right: fc.constantFrom('', '', '', '<repeat direction="backward"/>', '<repeat direction="backward" times="3"/>'),
      sign: fc.constantFrom('', '', '', '', 'segno', 'coda'),
      says: fc.constantFrom('', '', '', '', 'Fine', 'To Coda', 'D.C.', 'D.C. al Fine', 'D.S. al Coda', 'D.S.'),
      mark: fc.constantFrom('', '', '', 'A', 'B: 2|3', '# 4', 'Key'),
      time: fc.constantFrom('', '', '', '3/4', '6/8', '5/8', '2/2', '4/1', '7/32'),
      key: fc.constantFrom('', '', '', '-3', '7', '9'),
      lengths: fc.array(fc.integer({ min: 1, max: 9 }), { maxLength: 4 }),
      offset: fc.integer({ min: -9, max: 9 }),
      isImplicit: fc.boolean(),
    })
    .map((each) => {
      const [count = '', unit = ''] = each.time.split('/');
      const time = each.time === '' ? '' : `<time><beats>${count}</beats><beat-type>${unit}</beat-type></time>`;
      const key = each.key === '' ? '' : `<key><fifths>${each.key}</fifths><mode>minor</mode></key>`;
      const ending = (type: string): string =>
        each.opens === '' ? '' : `<ending number="${each.opens}" type="${type}"/>`;
      return [
        `<measure number="1" implicit="${each.isImplicit ? 'yes' : 'no'}">`,
        barline('left', ending('start') + each.left),
        `<attributes><divisions>6</divisions>${key}${time}</attributes>`,
        each.mark === ''
          ? ''
          : `<direction><direction-type><rehearsal>${each.mark}</rehearsal></direction-type></direction>`,
        each.sign === '' ? '' : `<direction><direction-type><${each.sign}/></direction-type></direction>`,
        ...each.lengths.map(
          (length, index) =>
            harmony('CDEFGAB'[length % 7] ?? 'C', 'dominant', index === 1 ? `<offset>${each.offset}</offset>` : '') +
            `<note><rest/><duration>${length}</duration></note>`,
        ),
        each.says === '' ? '' : words(each.says),
        barline('right', (each.closes ? ending('stop') : '') + each.right),
        '</measure>',
      ].join('');
    });

  test('in any disorder', () => {
    fc.assert(
      fc.property(fc.array(measure, { minLength: 1, maxLength: 9 }), (measures) => {
        const xml = `<score-partwise><part-list/><part id="P1">${measures.join('')}</part></score-partwise>`;
        const imported = chart(readMusicXml(xml));
        if (imported.sections.length === 0) return;
        let at = unfold(imported).slots[0]?.startTicks ?? 0;
        for (const slot of unfold(imported).slots) {
          expect(slot.startTicks).toBe(at);
          at = slot.endTicks;
        }
        const again = readChart(writeChart(imported));
        expect(again.ok ? [] : again.issues).toEqual([]);
        expect(unfold(chart(again)).slots.map((slot) => [slot.startTicks, slot.slot.chord.symbol])).toEqual(
          unfold(imported).slots.map((slot) => [slot.startTicks, slot.slot.chord.symbol]),
        );
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });
});
