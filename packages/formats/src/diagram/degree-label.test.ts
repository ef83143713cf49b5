import { describe, expect, it } from 'vitest';
import {
  degrees,
  noteName,
  notesOfScale,
  SCALE_KINDS,
  type Chord,
  type ChordScale,
  type ScaleKind,
} from '@fivespan/core';
import { degreeLabel, degreeLabels } from './degree-label.ts';

function chord(root: string, suffix: string, quality: Chord['quality'], spelled: string): Chord {
  return {
    kind: 'chord',
    root: noteName(root),
    quality,
    degrees: degrees(spelled),
    bass: null,
    suffix,
    symbol: root + suffix,
  };
}

/** A chord-scale with only what labels ask for. */
function chordScale(kind: ScaleKind, root: string, avoid: readonly string[]): ChordScale {
  const scale = { kind, root: noteName(root) };
  return {
    notes: notesOfScale(scale),
    avoid: avoid.map((each) => ({ note: noteName(each), resolvesTo: [] })),
  } as unknown as ChordScale;
}

const said = (labels: readonly { text: string; kind: string }[]): string =>
  labels.map((each) => (each.kind === 'rubs' ? '✕' : each.kind === 'tension' ? '~' : '') + each.text).join(' ');

describe('degrees over a chord', () => {
  // common practice: chord tones 1 3 5 7, tensions 9 and 13, the fourth rubs
  it('names the notes of Ionian over a major seventh chord', () => {
    const ebMaj7 = chord('Eb', 'maj7', 'major', '1 3 5 7');
    expect(said(degreeLabels(ebMaj7, chordScale(SCALE_KINDS.ionian, 'Eb', ['Ab'])))).toBe('1 ~9 3 ✕4 5 ~13 7');
  });

  it('names sixths by whether the chord has a seventh', () => {
    const dorian = chordScale(SCALE_KINDS.dorian, 'F', []);
    expect(said(degreeLabels(chord('F', 'm7', 'minor', '1 b3 5 b7'), dorian))).toBe('1 ~9 ♭3 ~11 5 ~13 ♭7');
    expect(said(degreeLabels(chord('F', 'm6', 'minor', '1 b3 5 6'), dorian))).toBe('1 ~9 ♭3 ~11 5 6 ~♭7');
  });

  it('calls the suspended fourth 4 and its ninth 9', () => {
    const sus = chord('G', '9sus4', 'suspended', '1 4 5 b7 9');
    expect(said(degreeLabels(sus, chordScale(SCALE_KINDS.mixolydian, 'G', ['B'])))).toBe('1 9 ✕3 4 5 ~13 ♭7');
  });

  it("reads an outside scale's notes over the chord's own root", () => {
    const c7 = chord('C', '7', 'dominant', '1 3 5 b7');
    // a tritone away: D flat, A flat and E flat families hold the natural seventh and not the root. Common practice
    const away = chordScale(SCALE_KINDS.mixolydian, 'Gb', []);
    expect(said(degreeLabels(c7, away))).toBe('~♯11 ~♭13 ♭7 ~7 ~♭9 ~♯9 3');
  });

  it("takes the chord-scale's spelling where the position's differs", () => {
    const g7alt = chord('G', '7alt', 'dominant', '1 3 b7 b9 #9 #11 b13');
    expect(degreeLabel(g7alt, null, noteName('Bb')).text).toBe('♯9');
    expect(degreeLabel(g7alt, null, noteName('Db')).text).toBe('♯11');
  });
});
