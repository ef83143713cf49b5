import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NO_PLAN_PINS, planRoute, type Plan } from '../../plan/index.ts';
import { randomSource } from '../../random.ts';
import { formatNoteName, midiOf, pitchClassOf, type Midi } from '../../theory/index.ts';
import { analysisOf, anyChartText } from '../invented-plan.ts';
import {
  leadVoicings,
  motionOf,
  VOICING_KINDS,
  voicingFaults,
  voicingForms,
  voicingNotes,
  voicingPinIssues,
  voicingsOf,
  waysToVoice,
  wordsOfVoicingReason,
  type VoicingKind,
} from './index.ts';
import { readableWays } from './lead-voicings.ts';

const planned = (text: string, level: 1 | 2 | 3 | 4 = 1): { analysis: ReturnType<typeof analysisOf>; plan: Plan } => {
  const analysis = analysisOf(text);
  return { analysis, plan: planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level }) };
};

const forms = (symbol: string, kind: VoicingKind, key = 'C'): string[] => {
  const [slot] = analysisOf(`key: ${key}\nA:\n| ${symbol} | % |\n`).slots;
  return voicingForms(slot!, kind).map(({ notes }) => notes.map(formatNoteName).join(' '));
};

describe('the kinds of voicings', () => {
  // common practice throughout
  it('guide tones are third and seventh, either below', () => {
    expect(forms('Dm7', 'guide tones')).toEqual(['F C', 'C F']);
  });

  it('two hands: shell left, the rest right', () => {
    expect(forms('Dm7', 'two hands')).toEqual(['D C F A E', 'D F C E A']);
  });

  it('quartal: fourths out of the chord-scale with a guide tone', () => {
    expect(forms('Cmaj7', 'quartal')).toContain('B E A');
    expect(forms('G7', 'quartal')).toContain('F B E');
    // C F is in fourths and is Dm7's seventh and third
    expect(forms('Dm7', 'quartal')).toContain('G C F');
  });

  it('upper structures: II, VI and others over a dominant by its scale', () => {
    // Lydian dominant: D major over C7; altered: A♭ major and G♭ major
    expect(forms('C7(#11)', 'upper structures', 'F')).toContain('E Bb D F# A');
    expect(forms('C7alt', 'upper structures', 'F minor')).toContain('E Bb Ab C Eb');
    // ♭II and ♭V hold a guide tone or are no triads of the scale: they stay away
    expect(forms('C7alt', 'upper structures', 'F minor').every((form) => /Ab/u.test(form))).toBe(true);
    // a triad has no pair to stand on: two hands instead
    expect(forms('C', 'upper structures')).toEqual(forms('C', 'two hands'));
  });
});

describe('voicings on paper', () => {
  it('keep every rule, whatever the kind: any chords, any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.constantFrom(...VOICING_KINDS), (text, kind) => {
        const { analysis, plan } = planned(text, 2);
        const sources = { analysis, plan, kind, pins: [] };
        const [left, right] = [voicingNotes(sources, 'left'), voicingNotes(sources, 'right')];
        expect(voicingFaults({ analysis, plan }, left), kind).toEqual([]);
        expect(voicingFaults({ analysis, plan }, right), kind).toEqual([]);
        const voiced = new Set(left.map(({ slotIndex }) => slotIndex));
        expect(analysis.slots.filter(({ chord, played }) => chord !== null && !voiced.has(played.index))).toEqual([]);
        for (const { why, pitch } of [...left, ...right]) wordsOfVoicingReason(why, formatNoteName(pitch.name));
      }),
      { seed: 20_261_130, numRuns: 25 },
    );
  });

  it('would be found out: a third on E2, a clash, a lost guide tone', () => {
    const { analysis, plan } = planned('key: F minor\nA:\n| C7(b9) | Fm7 |\n');
    const [first, ...rest] = voicingNotes({ analysis, plan, kind: 'rootless', pins: [] }, 'left').slice(0, 4);
    const low = [{ ...first!, pitch: { name: first!.pitch.name, octave: 2 } }, ...rest];
    expect(voicingFaults({ analysis, plan }, low).join()).toContain('wider than a hand');
    const plainNinth = { ...first!, pitch: { name: 2 as never, octave: 4 } };
    expect(voicingFaults({ analysis, plan }, [plainNinth]).join()).toMatch(/holds no guide tone.*clashes/su);
  });

  // A random path takes any way the search's own rules allow (waysToVoice, readableWays: a register by kind, clear low intervals, below F4 where
  // a way is; docs/chord-scales.md): the least motion there is can be no larger than the best of these.
  const examples = ['DEMO', 'copper-wheel', 'harbour-blues', 'winter-platform', 'three-lamps'].map(
    (name) => [name, readFileSync(join(import.meta.dirname, `../../../../../examples/${name}.chart`), 'utf8')] as const,
  );
  it.each(VOICING_KINDS)('move no further than the best of 10,000 random ways over every example: %s', (kind) => {
    // written anew: voices in order, the nearest where one comes or goes
    const distance = (a: readonly Midi[], b: readonly Midi[]): number => {
      const [few, many] = a.length < b.length ? [a, b] : [b, a];
      if (few.length === many.length) return many.reduce<number>((sum, key, at) => sum + Math.abs(key - few[at]!), 0);
      return many.reduce<number>((sum, key) => sum + Math.min(...few.map((other) => Math.abs(other - key))), 0);
    };
    for (const [name, text] of examples) {
      const { analysis, plan } = planned(text);
      const best = motionOf(voicingsOf({ analysis, plan, kind, pins: [] })).total;
      const ways = analysis.slots.map((slot, index) =>
        readableWays(waysToVoice(slot, index, kind, plan.slots[index]!.chordScale)),
      );
      // from every way of a chord to every way of the next, asked once
      const heard = ways.filter((some) => some.length > 0);
      const steps = heard
        .slice(1)
        .map((some, index) => heard[index]!.map((from) => some.map((to) => distance(from.keys, to.keys))));
      const random = randomSource(1, `paths ${name}`);
      let least = Number.POSITIVE_INFINITY;
      for (let path = 0; path < 10_000; path++) {
        let moved = 0;
        let at = random.integer(heard[0]!.length);
        for (const [index, step] of steps.entries()) {
          const to = random.integer(heard[index + 1]!.length);
          moved += step[at]![to]!;
          at = to;
        }
        least = Math.min(least, moved);
      }
      expect(best, name).toBeLessThanOrEqual(least);
    }
  });

  it('follow the altered scale that the hand plays over a plain dominant', () => {
    const { analysis, plan } = planned('key: C\nA:\n| Dm7 | G7 | Cmaj7 | % |\n');
    const altered = analysis.slots[1]!.chordScales.find(({ id }) => id === 'altered@1')!;
    const scales = plan.slots.map(({ chordScale }, index) => (index === 1 ? altered : chordScale));
    const voicing = leadVoicings(analysis, 'rootless', { scales })[1]!;
    expect(voicing.pitches.map(({ name }) => formatNoteName(name)).toSorted()).toEqual(['Ab', 'B', 'Eb', 'F']);
  });

  // common practice: what the other hand's line sounds, a chord says too or leaves open
  it('agree with a line that is away, or leave room for it; guide tones stay', () => {
    const text = 'key: C\nA:\n| Dm7 | G7 | Cmaj7 | A7 |\n| Dm7 | G7 | Cmaj7 | % |\n';
    let away = 0;
    for (const level of [2, 3, 4] as const) {
      const { analysis, plan } = planned(text, level);
      for (const kind of VOICING_KINDS) {
        for (const { keys, slotIndex } of voicingsOf({ analysis, plan, kind, pins: [] }).filter(
          (each) => each !== undefined,
        )) {
          const { chord, chordScales } = analysis.slots[slotIndex]!;
          const played = plan.slots[slotIndex]!.chordScale!;
          if (played.inside || played.scale.root === chord!.root) continue;
          away++;
          const own = chordScales[0]!.chordTones.map(pitchClassOf);
          const line = played.notes.map(pitchClassOf);
          const strange = keys
            .map((key) => key % 12)
            .filter((each) => ![...own, ...line].some((sound) => sound === each));
          expect(strange, `${kind} over ${chord!.symbol}`).toEqual([]);
        }
      }
    }
    expect(away).toBeGreaterThan(12);
  });

  it('stay as pinned and lead the others from there; a pin that no longer fits is told and passed over', () => {
    const { analysis, plan } = planned('key: C\nA:\n| Dm7 | G7 | Cmaj7 | % |\n');
    const free = voicingsOf({ analysis, plan, kind: 'rootless', pins: [] });
    const { slot } = analysis.slots[1]!.played;
    const other = waysToVoice(analysis.slots[1]!, 1, 'rootless').find(({ form }) => form !== free[1]!.form)!;
    const pin = { slot: slot.id, pass: 1, keys: other.keys.map(Number) };
    const pinned = voicingsOf({ analysis, plan, kind: 'rootless', pins: [pin] });
    expect(pinned[1]!.keys).toEqual(other.keys);
    expect(motionOf(pinned).total).toBeGreaterThanOrEqual(motionOf(free).total);
    expect(voicingPinIssues(analysis, plan, 'rootless', [pin])).toEqual([]);

    const stray = { ...pin, keys: [60, 61, 62] };
    expect(voicingsOf({ analysis, plan, kind: 'rootless', pins: [stray] })).toEqual(free);
    expect(voicingPinIssues(analysis, plan, 'rootless', [stray]).map(({ code }) => code)).toEqual([
      'parts.voicing-pin',
    ]);
    const lost = { ...pin, slot: 'gone' };
    expect(voicingPinIssues(analysis, plan, 'rootless', [lost]).map(({ code }) => code)).toEqual(['plan.pin-lost']);
  });

  it('says how a voice came', () => {
    const { analysis, plan } = planned('key: C\nA:\n| Dm7 | G7 | Cmaj7 | % |\n');
    const said = voicingNotes({ analysis, plan, kind: 'guide tones', pins: [] }, 'left').map(
      ({ why, pitch }) => `${midiOf(pitch)}: ${wordsOfVoicingReason(why, formatNoteName(pitch.name))}`,
    );
    expect(said.slice(0, 4).join('\n')).toMatch(/F is the .3 of Dm7\n.*C is the .7 of Dm7/su);
    expect(said.join('\n')).toContain('B is the 3 of G7, down a half step from C');
    expect(said.join('\n')).toContain('F is the ♭7 of G7 and stays');
  });
});
