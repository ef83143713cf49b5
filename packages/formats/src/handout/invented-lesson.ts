/** Small lessons of our own for the tests of the handout: charts nobody plays, notes nobody would choose. */
import {
  barTicksOf,
  beatTicksOf,
  DEFAULT_CHOICES,
  degrees,
  familyIn,
  MINOR_PENTATONIC,
  MINOR_SIX_PENTATONIC,
  midi,
  noteAbove,
  noteName,
  notesOfChord,
  notesOfScale,
  parseKey,
  pitchAt,
  pitchClassOf,
  setOfNotes,
  modulo,
  type AnalysedSlot,
  type Bar,
  type Chart,
  type Chord,
  type ChordQuality,
  type ChordScale,
  type ChorusNote,
  type HandNote,
  type BassNote,
  type Lesson,
  type Meter,
  type Pitch,
  type PlannedSlot,
  type PlayedBar,
  type PlayedSlot,
  type Reading,
  type ScoreNote,
  type Slot,
} from '@fivespan/core';

/** Suffix → quality, degrees, chord-scale name and degrees. Common practice. */
const KINDS: Readonly<Record<string, readonly [ChordQuality, string, string, string]>> = {
  m7: ['minor', '1 b3 5 b7', 'Dorian', '1 2 b3 4 5 6 b7'],
  m6: ['minor', '1 b3 5 6', 'melodic minor', '1 2 b3 4 5 6 7'],
  'm(maj7)': ['minor', '1 b3 5 7', 'melodic minor', '1 2 b3 4 5 6 7'],
  '7': ['dominant', '1 3 5 b7', 'Mixolydian', '1 2 3 4 5 6 b7'],
  '7(b9,b13)': ['dominant', '1 3 5 b7 b9 b13', 'altered', '1 b2 #2 3 #4 b6 b7'],
  '7alt': ['dominant', '1 3 b7 b9 #9 #11 b13', 'altered', '1 b2 #2 3 #4 b6 b7'],
  maj7: ['major', '1 3 5 7', 'Ionian', '1 2 3 4 5 6 7'],
  'maj7(#11)': ['major', '1 3 5 7 #11', 'Lydian', '1 2 3 #4 5 6 7'],
  m7b5: ['half-diminished', '1 b3 b5 b7', 'Locrian natural 2', '1 2 b3 4 b5 b6 b7'],
};

function chordFrom(symbol: string): Chord {
  const [, root = '', suffix = '', bass] = /^([A-G][b#]?)([^/]*)(?:\/(.+))?$/u.exec(symbol) ?? [];
  const kind = KINDS[suffix];
  if (kind === undefined) throw new TypeError(`symbol must be one of the invented kinds, not '${symbol}'`);
  return {
    kind: 'chord',
    root: noteName(root),
    quality: kind[0],
    degrees: degrees(kind[1]),
    bass: bass === undefined ? null : noteName(bass),
    suffix,
    symbol,
  };
}

function scaleFor(chord: Chord): ChordScale {
  const [quality, , name, spelled] = KINDS[chord.suffix] as (typeof KINDS)[string];
  const scale = {
    kind: {
      id: name.toLowerCase().replaceAll(' ', '-'),
      name,
      degrees: degrees(spelled),
      family: 'own' as const,
      mode: null,
      passing: null,
    },
    root: chord.root,
  };
  const notes = notesOfScale(scale);
  const tones = notesOfChord(chord);
  const classes = tones.map(pitchClassOf);
  const others = notes.filter((each) => !classes.includes(pitchClassOf(each)));
  const rubs = others.filter((each) => {
    const below = modulo(pitchClassOf(each) - 1, 12);
    return tones.some((tone) => pitchClassOf(tone) === below) && !(quality === 'dominant' && name === 'altered');
  });
  return {
    id: `${scale.kind.id}@1`,
    name,
    scale,
    notes,
    kept: notesOfChord(chord),
    set: setOfNotes(notes),
    inside: true,
    outsideness: { guideTonesLost: 0, notesOutsideKey: 0 },
    move: 'stay',
    chordTones: tones,
    tensions: others.filter((each) => !rubs.includes(each)),
    avoid: rubs.map((note) => ({
      note,
      resolvesTo: [
        {
          note: tones.find((tone) => modulo(pitchClassOf(note) - pitchClassOf(tone), 12) === 1) ?? note,
          semitones: -1,
        },
      ],
    })),
    missing: [],
    reason: { code: 'invented', args: {} },
  };
}

export interface InventedChart {
  readonly title?: string;
  readonly key: string;
  readonly meter?: Meter;
  readonly tempoBpm?: number;
  readonly swing?: boolean;
  /** Section name → bars; each bar's chords with their numerals, `Fm7:iim7`, share it evenly. Signs: `|:` `:|` `1.` `2.` */
  readonly sections: readonly (readonly [name: string | null, bars: string])[];
}

/** Splits at bar lines; a bar that starts a repeat is marked `<`, one that ends it `>`. */
function barTexts(text: string): string[] {
  const bars = text.replaceAll('|:', '|<').replaceAll(':|', '>|').split('|');
  return bars.filter((bar) => bar.trim() !== '');
}

/** `|: Fm7:iim7 Bb7:V7 | Ebmaj7:Imaj7 :|` as sections of bars. */
function chartFrom(invented: InventedChart): { chart: Chart; numerals: Map<string, string> } {
  const meter = invented.meter ?? { count: 4, unit: 4 };
  const key = parseKey(invented.key);
  if (key === undefined) throw new TypeError(`key must be a key, not '${invented.key}'`);
  const numerals = new Map<string, string>();
  let number = 0;
  const sections = invented.sections.map(([name, text], sectionIndex) => ({
    id: `s${sectionIndex}`,
    name,
    bars: barTexts(text).map((raw): Bar => {
      number++;
      const ending = /(\d)\./u.exec(raw)?.[1];
      const symbols = raw
        .replaceAll(/[<>]|\d\./gu, '')
        .trim()
        .split(/\s+/u);
      const barTicks = barTicksOf(meter);
      const slots = symbols.map((each, index): Slot => {
        const [symbol = '', numeral = ''] = each.split(':');
        const id = `b${number}c${index}` as Slot['id'];
        numerals.set(id, numeral);
        const length = barTicks / symbols.length;
        return { id, startTicks: index * length, durationTicks: length, chord: chordFrom(symbol) };
      });
      return {
        id: `b${number}` as Bar['id'],
        number,
        meter,
        keyChange: null,
        durationTicks: barTicks,
        slots,
        startsRepeat: raw.includes('<'),
        endsRepeatTimes: raw.includes('>') ? 2 : 0,
        endings: ending === undefined ? [] : [Number(ending)],
        startsEnding: ending !== undefined,
        marks: { segno: false, coda: false, fine: false, toCoda: false },
        jump: null,
      };
    }),
  }));
  return {
    chart: {
      title: invented.title ?? 'Tin Lantern',
      key,
      meter,
      tempoBpm: invented.tempoBpm ?? 132,
      feel: invented.swing === false ? 'even' : 'swing',
      sections,
    },
    numerals,
  };
}

/** Makes a lesson of an invented chart. Repeats are not played out: the form is one pass. */
export function inventedLesson(invented: InventedChart): Lesson {
  const { chart, numerals } = chartFrom(invented);
  const key = chart.key as NonNullable<Chart['key']>;
  let at = 0;
  const bars: PlayedBar[] = chart.sections.flatMap((section) =>
    section.bars.map((bar) => {
      const played = { bar, section, pass: 1, index: bar.number - 1, startTicks: at };
      at += bar.durationTicks;
      return played;
    }),
  );
  const slots: PlayedSlot[] = [];
  for (const playedBar of bars) {
    for (const slot of playedBar.bar.slots) {
      const startTicks = playedBar.startTicks + slot.startTicks;
      const beatTicks = beatTicksOf(chart.meter);
      slots.push({
        slot,
        playedBar,
        index: slots.length,
        startTicks,
        endTicks: startTicks + slot.durationTicks,
        beat: 1 + slot.startTicks / beatTicks,
        beats: slot.durationTicks / beatTicks,
      });
    }
  }
  const planned = slots.map((played): PlannedSlot => {
    const chord = played.slot.chord as Chord;
    const chordScale = scaleFor(chord);
    const reading: Reading = {
      key,
      numeral: numerals.get(played.slot.id) ?? '',
      role: 'tonic',
      reason: { code: 'invented', args: {} },
      target: null,
      targetMode: null,
    };
    const analysed: AnalysedSlot = { played, chord, reading, alternatives: [], chordScales: [chordScale] };
    const shapes = [MINOR_PENTATONIC, MINOR_SIX_PENTATONIC];
    if (chordScale.name === 'melodic minor') shapes.reverse();
    const families = shapes.map((shape) => familyIn(shape, chordScale.notes, chordScale.kept));
    const family = families.find((each) => each.positions.length > 0) ?? null;
    const position = family?.positions[played.index % family.positions.length] ?? null;
    const thumbMidi = position === null ? null : midi(55 + modulo(pitchClassOf(position.thumb) - 7, 12));
    return { analysed, chordScale, family, position, thumbMidi, travelMm: 0 };
  });

  const why = { code: 'invented', args: {} };
  const chorus: ChorusNote[] = [];
  const bass: BassNote[] = [];
  const arpeggios: HandNote[] = [];
  for (const { analysed, position, thumbMidi } of planned) {
    const { played } = analysed;
    const chord = analysed.chord as Chord;
    const beatTicks = beatTicksOf(chart.meter);
    for (let beat = 0; beat < played.beats; beat++) {
      const name = beat % 2 === 0 ? chord.root : noteAbove(chord.root, chord.degrees[2] as Chord['degrees'][number]);
      const low = midi(36 + modulo(pitchClassOf(name), 12));
      bass.push({
        startTicks: played.startTicks + beat * beatTicks,
        durationTicks: beatTicks,
        pitch: pitchAt(name, low),
        slotIndex: played.index,
        why,
        function: beat % 2 === 0 ? 'root' : 'fifth',
      });
    }
    if (position === null || thumbMidi === null) continue;
    const eighth = 480;
    const order = [0, 1, 2, 3, 4, 3, 2, 1];
    for (let step = 0; step < (played.endTicks - played.startTicks) / eighth; step++) {
      const finger = order[step % order.length] as number;
      const key = midi(thumbMidi + (position.shape.steps[finger] as number));
      const note = {
        startTicks: played.startTicks + step * eighth,
        durationTicks: eighth,
        pitch: pitchAt(position.notes[finger] as Pitch['name'], key),
        slotIndex: played.index,
        why,
        finger: (finger + 1) as HandNote['finger'],
        position,
      };
      if (step % 8 !== 7) chorus.push({ ...note, octaves: 0, neighbour: null, motive: null });
      if ([0, 1, 3, 4].includes(finger) && step < 5) arpeggios.push(note);
    }
  }
  const toScore = (notes: readonly (HandNote | BassNote)[]): ScoreNote[] =>
    notes.map((note) => ({
      pitch: note.pitch,
      startTicks: note.startTicks,
      durationTicks: note.durationTicks,
      finger: 'finger' in note ? note.finger : null,
    }));
  let lastThumb: number | null = null;
  const thumbs = planned.flatMap((slot) => {
    if (slot.position === null || slot.thumbMidi === lastThumb) return [];
    lastThumb = slot.thumbMidi;
    return [{ startTicks: slot.analysed.played.startTicks, thumb: slot.position.thumb }];
  });
  return {
    chart,
    writtenKey: key,
    choices: DEFAULT_CHOICES,
    analysis: {
      chart,
      form: { bars, slots, endTicks: at },
      key,
      keyFound: key,
      regions: [{ key, fromSlot: 0, toSlot: slots.length }],
      slots: planned.map((each) => each.analysed),
      cadences: [],
    },
    plan: { slots: planned, totalTravelMm: 0 },
    bass,
    arpeggios,
    chorus,
    upperVoicings: [],
    voicings: [],
    score: {
      title: chart.title,
      key,
      meter: chart.meter,
      tempoBpm: chart.tempoBpm ?? 120,
      feel: chart.feel,
      bars: bars.map(({ bar, section, startTicks }) => ({
        number: bar.number,
        startTicks,
        durationTicks: bar.durationTicks,
        meter: bar.meter,
        key,
        section: section.bars[0] === bar ? section.name : null,
        isPickup: false,
      })),
      chords: planned.map(({ analysed }) => ({
        startTicks: analysed.played.startTicks,
        chord: analysed.played.slot.chord,
        numeral: analysed.reading.numeral,
      })),
      thumbs,
      staves: [
        { role: 'right hand', clef: 'treble', notes: toScore(chorus) },
        { role: 'left hand', clef: 'bass', notes: toScore(bass) },
        { role: 'arpeggio study', clef: 'treble', notes: toScore(arpeggios) },
      ],
      phrases: [],
      endTicks: at,
    },
    performance: { parts: [], endSeconds: 0 },
  };
}
