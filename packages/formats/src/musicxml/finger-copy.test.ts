import { fingeringModel, FINGERS, type Finger, type HandSide } from '@fivespan/core';
import fc from 'fast-check';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { readScoreHand, writeScoreFingers, type ScoreHand } from './finger-copy.ts';
import { fingerLine } from './hand-line.ts';
import type { StaffChoice } from './hand-staff.ts';

interface NoteText {
  /** After the pitch's duration: chord and grace before, the rest behind. */
  readonly before?: string;
  readonly after?: string;
  readonly duration?: number | null;
}

/** A note: `C#5`, with what stands before its pitch and after its duration. */
function note(name: string, { before = '', after = '', duration = 4 }: NoteText = {}): string {
  const [, step = '', accidentals = '', octave = ''] = /^([A-G])([#b]*)(\d)$/u.exec(name) ?? [];
  const alter = [...accidentals].reduce((sum, each) => sum + (each === '#' ? 1 : -1), 0);
  const altered = alter === 0 ? '' : `<alter>${alter}</alter>`;
  const length = duration === null ? '' : `<duration>${duration}</duration>`;
  return `<note>${before}<pitch><step>${step}</step>${altered}<octave>${octave}</octave></pitch>${length}${after}</note>`;
}

const chordal = (name: string, more: NoteText = {}): string => note(name, { ...more, before: '<chord/>' });
const rest = (duration: number): string => `<note><rest/><duration>${duration}</duration></note>`;
const fingered = (text: string, more = ''): string =>
  `<notations><technical>${text
    .split(' ')
    .map((each) => `<fingering${more}>${each}</fingering>`)
    .join('')}</technical></notations>`;
const onStaff = (staff: number): NoteText => ({ after: `<staff>${staff}</staff>` });

const ATTRIBUTES =
  '<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>';

/** A score of one part, a string a bar. */
function scoreOf(...bars: readonly string[]): string {
  return partsOf({ name: 'Piano', bars });
}

function partsOf(
  ...parts: readonly { readonly name: string; readonly bars: readonly string[]; readonly clefs?: string }[]
): string {
  const list = parts.map(
    ({ name }, index) => `<score-part id="P${index + 1}"><part-name>${name}</part-name></score-part>`,
  );
  const bodies = parts.map(({ bars, clefs = '' }, index) => {
    const measures = bars.map((bar, at) => {
      const attributes = at === 0 ? ATTRIBUTES.replace('</attributes>', `${clefs}</attributes>`) : '';
      return `<measure number="${at + 1}">${attributes}${bar}</measure>`;
    });
    return `<part id="P${index + 1}">${measures.join('')}</part>`;
  });
  return `<?xml version="1.0"?><score-partwise><part-list>${list.join('')}</part-list>${bodies.join('')}</score-partwise>`;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const textOf = (bytes: Uint8Array): string => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);

function handOf(file: string | Uint8Array, choice: StaffChoice = { side: 'right' }): ScoreHand {
  const hand = readScoreHand(typeof file === 'string' ? bytesOf(file) : file, choice);
  if (!hand.ok) throw new Error(JSON.stringify(hand.issues));
  return hand.value;
}

function fingersOf(file: string | Uint8Array, side: HandSide = 'right') {
  const hand = handOf(file, { side });
  const line = fingerLine(hand.notes, { side, model: fingeringModel('fivespan') });
  if (!line.ok) throw new Error(JSON.stringify(line.issues));
  return { hand, line: line.value, warnings: line.warnings };
}

function copyOf(file: string, side: HandSide = 'right'): string {
  const { hand, line } = fingersOf(file, side);
  return textOf(writeScoreFingers(hand, line.fingers));
}

const issuesOf = (file: string | Uint8Array, choice: StaffChoice = { side: 'right' }) => {
  const hand = readScoreHand(typeof file === 'string' ? bytesOf(file) : file, choice);
  if (!hand.ok) return hand.issues;
  const line = fingerLine(hand.value.notes, { side: choice.side, model: fingeringModel('fivespan') });
  return line.ok ? [...hand.warnings, ...line.warnings] : line.issues;
};

const ADDED =
  /\s*<notations><technical><fingering placement="(?:above|below)">[1-5]<\/fingering><\/technical><\/notations>/gu;

describe('which notes', () => {
  test('five keys up from C: 1 to 5 in the right hand, 5 to 1 in the left (common practice)', () => {
    const score = scoreOf(['C4', 'D4', 'E4', 'F4'].map((name) => note(name)).join(''), note('G4'));
    expect(fingersOf(score).line.fingers).toEqual([1, 2, 3, 4, 5]);
    expect(fingersOf(score, 'left').line.fingers).toEqual([5, 4, 3, 2, 1]);
  });

  test('a tie is one note, over a bar line too; it sounds on, and only its first note gets a finger', () => {
    const tied = note('E4', { duration: 16, after: '<tie type="start"/>' });
    const score = scoreOf(tied, note('E4', { duration: 4, after: '<tie type="stop"/>' }) + note('F4'));
    expect(handOf(score).notes.map(({ name, durationTicks }) => [name, durationTicks])).toEqual([
      ['E4', 4800],
      ['F4', 960],
    ]);
    expect(copyOf(score).match(/<fingering/gu)).toHaveLength(2);
    expect(copyOf(score)).toMatch(/<tie type="stop"\/><\/note>/u);
  });

  test('a tie that comes from nowhere, or from another key, is struck', () => {
    const stop = { after: '<tie type="stop"/>' };
    const score = scoreOf(note('E4', stop) + note('F4', { after: '<tie type="start"/>' }) + note('G4', stop));
    expect(handOf(score).notes).toHaveLength(3);
  });

  test('chords and voices that sound together are one strike; a unison has one finger', () => {
    const upper = note('G4', { duration: 8 }) + note('G4', { duration: 8 });
    const lower = note('C4', { duration: 8 }) + chordal('E4', { duration: 8 }) + note('G4', { duration: 8 });
    const { hand, line } = fingersOf(scoreOf(`${upper}<backup><duration>16</duration></backup>${lower}`));
    expect(hand.notes.map(({ name, strike }) => `${name} ${strike}`)).toEqual(['G4 0', 'C4 0', 'E4 0', 'G4 1', 'G4 1']);
    expect(line.fingers[3]).toBe(line.fingers[4]);
    expect(textOf(writeScoreFingers(hand, line.fingers)).match(/<fingering/gu)).toHaveLength(4);
  });

  test('voices meet at one place though their divisions do not divide', () => {
    const triplets = ['C5', 'D5', 'E5'].map((name) => note(name, { duration: 1.3333 })).join('');
    const score = scoreOf(`${triplets}${note('F5')}<backup><duration>8</duration></backup>${rest(4)}${note('A4')}`);
    expect(handOf(score).notes.map(({ strike }) => strike)).toEqual([0, 1, 2, 3, 3]);
  });

  test('grace notes are struck one by one before their note, chords of them at once', () => {
    const grace = { before: '<grace/>', duration: null };
    const score = scoreOf(
      note('D5', grace) + note('E5', grace) + note('G5', { before: '<grace/><chord/>', duration: null }) + note('C5'),
    );
    expect(handOf(score).notes.map(({ name, strike, startTicks }) => `${name} ${strike} ${startTicks}`)).toEqual([
      'D5 0 0',
      'E5 1 0',
      'G5 1 0',
      'C5 2 0',
    ]);
  });

  test('cue notes, hidden notes, rests and drums are left out', () => {
    const hidden = note('D5').replace('<note>', '<note print-object="no">');
    const drum = '<note><unpitched/><duration>4</duration></note>';
    const cue = note('E5', { before: '<cue/>' });
    expect(handOf(scoreOf(hidden + drum + cue + note('C5'))).notes.map(({ name }) => name)).toEqual(['C5']);
  });

  test('a rest of a beat frees the hand, a shorter one does not', () => {
    // C4, then a tenth higher: with a beat of rest nothing ties the two
    const pointsAfter = (length: number): number =>
      fingersOf(scoreOf(note('C4') + (length === 0 ? '' : rest(length)) + note('E6'))).line.fingering.points;
    expect(pointsAfter(4)).toBe(0);
    expect(pointsAfter(3)).toBe(pointsAfter(0));
    expect(pointsAfter(0)).toBeGreaterThan(0);
  });

  test('a pickup is before the first full bar', () => {
    const score = scoreOf(note('G4'), note('C5', { duration: 16 }));
    expect(handOf(score).notes.map(({ startTicks, bar }) => [startTicks, bar])).toEqual([
      [-960, 1],
      [0, 2],
    ]);
  });

  test('a transposing part is fingered where it sounds', () => {
    const transpose = '<transpose><chromatic>-2</chromatic></transpose>';
    const score = partsOf({ name: 'Keys in B flat', bars: [note('D5')], clefs: transpose });
    expect(handOf(score).notes[0]).toMatchObject({ name: 'D5', midi: 72 });
  });
});

describe('which staff', () => {
  const two = note('C5', onStaff(1)) + '<backup><duration>4</duration></backup>' + note('C3', onStaff(2));
  const piano = { name: 'Piano', bars: [two] };
  const voice = { name: 'Voice', bars: [note('A4')] };
  const namesOf = (file: string, choice: StaffChoice) => handOf(file, choice).notes.map(({ name }) => name);

  test('of two staves the upper is the right hand, the lower the left', () => {
    expect(namesOf(partsOf(piano), { side: 'right' })).toEqual(['C5']);
    expect(namesOf(partsOf(piano), { side: 'left' })).toEqual(['C3']);
    expect(namesOf(partsOf(piano), { side: 'left', staff: 1 })).toEqual(['C5']);
  });

  test('of several parts the only one on two staves, and it is told', () => {
    expect(namesOf(partsOf(voice, piano), { side: 'left' })).toEqual(['C3']);
    expect(issuesOf(partsOf(voice, piano), { side: 'left' }).map(({ code, args }) => [code, args['where']])).toEqual([
      ['fingering.hand-taken', "part 2 'Piano', staff 2"],
    ]);
    expect(namesOf(partsOf(voice, piano), { side: 'right', part: 1 })).toEqual(['A4']);
  });

  test('of parts on one staff each, the one with the clef', () => {
    const clef = (sign: string): string => `<clef><sign>${sign}</sign></clef>`;
    const parts = [
      { name: 'Upper', bars: [note('C5')], clefs: clef('G') },
      { name: 'Lower', bars: [note('C3')], clefs: clef('F') },
    ];
    expect(namesOf(partsOf(...parts), { side: 'right' })).toEqual(['C5']);
    expect(namesOf(partsOf(...parts), { side: 'left' })).toEqual(['C3']);
  });

  test('where it is not clear, the staves are listed; where there is none, it is said', () => {
    const [unclear] = issuesOf(partsOf(voice, { ...voice, name: 'Second' }));
    expect(unclear).toMatchObject({ code: 'fingering.which-part', args: { asked: '' } });
    expect(unclear?.args['staves']).toBe("part 1 'Voice', staff 1; part 2 'Second', staff 1");
    expect(issuesOf(partsOf(voice, piano), { side: 'left', part: 3 })[0]?.args['asked']).toBe('part 3');
    expect(issuesOf(scoreOf(rest(16)))[0]).toMatchObject({ code: 'fingering.which-part', args: { staves: '' } });
  });
});

describe('fingers in the file', () => {
  test('are obeyed and left as they are', () => {
    const score = scoreOf(note('C4') + note('D4', { after: fingered('4') }) + note('E4'));
    const { line } = fingersOf(score);
    expect(line.fingers[1]).toBe(4);
    expect(copyOf(score)).toContain(fingered('4'));
    expect(copyOf(score).replaceAll(ADDED, '')).toBe(score);
    expect(copyOf(score).match(/<fingering/gu)).toHaveLength(3);
  });

  test('of a chord may all stand on one note, lowest first', () => {
    const score = scoreOf(note('E4', { after: fingered('1 3 4') }) + chordal('C4') + chordal('G4'));
    const { hand, line } = fingersOf(score);
    expect(hand.notes.map(({ fixed }) => fixed)).toEqual([3, 1, 4]);
    expect(line.fingers).toEqual([3, 1, 4]);
    expect(copyOf(score)).toBe(score);
  });

  test('a substitute is none to begin with', () => {
    const after = fingered('2').replace('</technical>', '<fingering substitution="yes">1</fingering></technical>');
    expect(handOf(scoreOf(note('C4', { after }))).notes[0]?.fixed).toBe(2);
  });

  test('that are no fingers are left and told', () => {
    const score = scoreOf(note('C4', { after: fingered('7') }) + note('D4'));
    expect(issuesOf(score)).toEqual([{ code: 'fingering.not-understood', args: { text: '7' }, place: { bar: 1 } }]);
    expect(copyOf(score).match(/<fingering/gu)).toHaveLength(2);
  });

  test('that cross in a chord, and six keys at once, are faults with their bar', () => {
    const cross = note('C4', { after: fingered('5') }) + chordal('E4', { after: fingered('1') });
    expect(issuesOf(scoreOf(note('C4'), cross))).toMatchObject([{ code: 'fingering.pins-cross', place: { bar: 2 } }]);
    const six = note('C4') + ['D4', 'E4', 'F4', 'G4', 'A4'].map((name) => chordal(name)).join('');
    expect(issuesOf(scoreOf(note('C4'), note('C4'), six))).toMatchObject([
      { code: 'fingering.too-many-keys', args: { keys: 6 }, place: { bar: 3 } },
    ]);
  });

  test('a finger asked for while it holds another key is told', () => {
    // the little finger is written on both: the lower note is still held
    const held = note('C5', { duration: 16, after: fingered('5') });
    const score = scoreOf(`${held}<backup><duration>12</duration></backup>${note('D5', { after: fingered('5') })}`);
    expect(issuesOf(score)).toEqual([{ code: 'fingering.finger-held', args: { count: 1 }, place: { bar: 1 } }]);
  });
});

describe('where a fingering goes', () => {
  const placed = (after: string): string => {
    const copy = copyOf(scoreOf(note('C4', { after })));
    return /<\/duration>([\s\S]*?)<\/note>/u.exec(copy)?.[1] ?? '';
  };
  const finger = '<fingering placement="above">1</fingering>';

  test.each([
    ['nothing there', '', `<notations><technical>${finger}</technical></notations>`],
    [
      'before lyrics',
      '<lyric><text>la</text></lyric>',
      `<notations><technical>${finger}</technical></notations><lyric><text>la</text></lyric>`,
    ],
    [
      'after the staff and beams',
      '<staff>1</staff><beam>begin</beam>',
      `<staff>1</staff><beam>begin</beam><notations><technical>${finger}</technical></notations>`,
    ],
    [
      'into notations',
      '<notations><slur type="stop"/></notations>',
      `<notations><slur type="stop"/><technical>${finger}</technical></notations>`,
    ],
    [
      'into technical marks',
      '<notations><technical><up-bow/></technical></notations>',
      `<notations><technical><up-bow/>${finger}</technical></notations>`,
    ],
    ['beside empty notations', '<notations/>', `<notations/><notations><technical>${finger}</technical></notations>`],
    [
      'beside empty marks',
      '<notations><technical/></notations>',
      `<notations><technical/><technical>${finger}</technical></notations>`,
    ],
    [
      'into notations without marks',
      '<notations></notations>',
      `<notations><technical>${finger}</technical></notations>`,
    ],
    [
      'not into hidden notations',
      '<notations print-object="no"><tied type="start"/></notations>',
      `<notations print-object="no"><tied type="start"/></notations><notations><technical>${finger}</technical></notations>`,
    ],
  ])('%s', (_name, after, expected) => expect(placed(after)).toBe(expected));

  test('on a line of its own where the file has lines', () => {
    const copy = copyOf(scoreOf(note('C4')).replaceAll('><', '>\r\n  <'));
    expect(copy).toContain('</duration>\r\n  <notations><technical>');
  });
});

describe('the bytes', () => {
  const pieces = fc.constantFrom('\n', '\r\n', ' ', '\r', '\t', '', '<!-- </note> ♭ 𝄞 -->', '<?page 𝄞?>');
  const law = fc.property(
    fc.array(fc.tuple(fc.constantFrom('C4', 'Eb4', 'F#5', 'G4'), pieces, fc.constantFrom(...FINGERS)), {
      minLength: 1,
      maxLength: 40,
    }),
    fc.nat(70_000),
    (notes, padding) => {
      // padding moves the notes across the pieces the reader takes
      const score =
        `<!--${'𝄞'.repeat(padding / 2)}-->${scoreOf(...notes.map(([name, piece]) => piece + note(name).replaceAll('><', `>${piece}<`)))}`.replace(
          /^(<!--[^>]*-->)(<\?xml[^>]*\?>)/u,
          '$2$1',
        );
      const hand = handOf(score);
      const copy = textOf(
        writeScoreFingers(
          hand,
          notes.map(([, , finger]) => finger),
        ),
      );
      expect(copy.replaceAll(ADDED, '')).toBe(score);
      expect([...copy.matchAll(/<fingering[^>]*>(\d)/gu)].map(([, finger]) => Number(finger))).toEqual(
        notes.map(([, , finger]) => finger),
      );
    },
  );
  test('all stay, whatever the line breaks, comments and wide characters', () =>
    fc.assert(law, { seed: 4, numRuns: 60 }));

  const score = scoreOf(note('C4') + note('D4', { after: '<lyric><text>é</text></lyric>' }));
  const one: readonly Finger[] = [1, 2];

  test('a byte-order mark stays', () => {
    const copy = writeScoreFingers(handOf(bytesOf(`\uFEFF${score}`)), one);
    expect([...copy.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(textOf(copy).replaceAll(ADDED, '')).toBe(`\uFEFF${score}`);
  });

  test.each([
    ['utf-16le', true],
    ['utf-16be', true],
    ['utf-16le', false],
  ] as const)('%s, marked: %s', (encoding, isMarked) => {
    const units = Uint16Array.from(`${isMarked ? '\uFEFF' : ''}${score}`, (each) => each.charCodeAt(0));
    const bytes = new Uint8Array(units.length * 2);
    const view = new DataView(bytes.buffer);
    for (const [index, unit] of units.entries()) view.setUint16(index * 2, unit, encoding === 'utf-16le');
    const copy = new TextDecoder(encoding).decode(writeScoreFingers(handOf(bytes), one));
    expect(copy.replaceAll(ADDED, '')).toBe(score);
    expect(copy.match(/<fingering/gu)).toHaveLength(2);
  });

  test('ISO 8859-1', () => {
    const text = score.replace('?>', ' encoding="ISO-8859-1"?>');
    const copy = writeScoreFingers(handOf(Uint8Array.from(text, (each) => each.charCodeAt(0))), one);
    expect(String.fromCharCode(...copy).replaceAll(ADDED, '')).toBe(text);
  });

  test('a packed score comes out packed, with all else it holds, the same bytes each time; or plain', () => {
    const container = '<container><rootfiles><rootfile full-path="a/score.xml"/></rootfiles></container>';
    const packed = zipSync({
      mimetype: [strToU8('application/vnd.recordare.musicxml'), { level: 0 }],
      'META-INF/container.xml': strToU8(container),
      'a/score.xml': strToU8(score),
      'picture.png': Uint8Array.of(1, 2, 3),
    });
    const hand = handOf(packed);
    const copy = writeScoreFingers(hand, one);
    const entries = unzipSync(copy);
    expect(Object.keys(entries)).toEqual(['mimetype', 'META-INF/container.xml', 'a/score.xml', 'picture.png']);
    expect(textOf(entries['a/score.xml'] as Uint8Array).replaceAll(ADDED, '')).toBe(score);
    expect([...(entries['picture.png'] as Uint8Array)]).toEqual([1, 2, 3]);
    // stored as it is, first: name and content stand at byte 30 (zip, local file header)
    expect(textOf(copy.subarray(30, 72))).toBe('mimetypeapplication/vnd.recordare.musicxml');
    expect(writeScoreFingers(handOf(packed), one)).toEqual(copy);
    expect(textOf(writeScoreFingers(hand, one, 'plain')).replaceAll(ADDED, '')).toBe(score);
    expect(handOf(copy).notes.map(({ fixed }) => fixed)).toEqual([1, 2]);
  });
});

describe('files that are none', () => {
  test('a packed file that says its picture is small and unpacks it without end, or is cut off within it', () => {
    const packed = zipSync({ 'score.xml': strToU8(scoreOf(note('C4'))), 'picture.png': new Uint8Array(40_000_000) });
    const view = new DataView(packed.buffer, packed.byteOffset, packed.length);
    // sizes stand 22 bytes into a local file header and 24 into an entry of the directory (zip)
    for (let at = 0; at + 28 < packed.length; at++) {
      const kind = view.getUint32(at, true);
      const size = kind === 0x04034b50 ? at + 22 : kind === 0x02014b50 ? at + 24 : null;
      if (size !== null && view.getUint32(size, true) === 40_000_000) view.setUint32(size, 10, true);
    }
    expect(issuesOf(packed).map(({ code }) => code)).toEqual(['musicxml.too-large']);
    expect(issuesOf(packed.slice(0, 20_000)).map(({ code }) => code)).toEqual(['musicxml.damaged-zip']);
  });

  test.each([
    ['cut off', scoreOf(note('C4')).slice(0, -30), 'musicxml.not-xml'],
    ['an entity', scoreOf(note('C4')).replace('Piano', '&piano;'), 'musicxml.not-xml'],
    ['another document', '<html></html>', 'musicxml.not-a-score'],
    ['bar by bar', '<score-timewise/>', 'musicxml.timewise'],
    ['a pitch no key has', scoreOf(note('C4').replace('<octave>4', '<octave>40')), 'fingering.no-key'],
    ['a quarter tone', scoreOf(note('C#4').replace('<alter>1', '<alter>0.5')), 'fingering.no-key'],
    ['a very deep one', `<score-partwise>${'<a>'.repeat(100)}`, 'musicxml.not-xml'],
    ['no text', Uint8Array.of(0x3c, 0xff, 0xfe), 'musicxml.not-text'],
    ['no zip', Uint8Array.of(0x50, 0x4b, 3, 4, 0), 'musicxml.damaged-zip'],
  ])('%s', (_name, file, code) => expect(issuesOf(file).map((each) => each.code)).toEqual([code]));

  test('numbers that make no sense do no harm', () => {
    const wild = scoreOf(
      note('C4', { duration: -5 }) +
        '<backup><duration>1e8</duration></backup>' +
        note('D4', { after: '<staff>x</staff>' }),
    );
    expect(handOf(wild.replace('<divisions>4', '<divisions>0')).notes).toHaveLength(2);
  });

  test('a hand with more notes than are taken', () => {
    const bar = Array.from({ length: 2001 }, () => note('C4')).join('');
    expect(issuesOf(scoreOf(...Array.from({ length: 10 }, () => bar))).map(({ code }) => code)).toEqual([
      'fingering.too-long',
    ]);
  });

  test('fingers for another number of notes are a programmer’s mistake', () => {
    expect(() => writeScoreFingers(handOf(scoreOf(note('C4'))), [1, 2])).toThrow(/fingers must be 1/u);
  });
});
