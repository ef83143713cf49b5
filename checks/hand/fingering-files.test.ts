/**
 * Sources: MusicXML 4.0, W3C Community Final Specification, musicxml.xsd (../shared/schema), through xmllint; the Vienna
 * 4x22 corpus (../shared/data/vienna4x22; its README has the licence), a printed score on two staves and its performances;
 * midi-file 1.2.4 as an independent reader of what is written; copies of scores are compared as text.
 */
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, fingeringModel, makeLesson, readChart, type HandSide } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  fingerLine,
  readScoreHand,
  writeMusicXml,
  writeScoreFingers,
} from '../../packages/formats/src/musicxml/index.ts';

const root = join(import.meta.dirname, '../..');
const bin = join(root, 'apps', 'cli', 'bin', 'fivespan.mjs');
const shared = process.env['FIVESPAN_OPEN_DATA'] ?? join(root, '..', 'shared');
const schema = join(shared, 'schema', 'musicxml.xsd');
const canValidate = existsSync(schema) && spawnSync('xmllint', ['--version']).status === 0;
const schemaWords = canValidate ? '' : ' (skipped: open data not here, or no xmllint)';
const vienna = join(shared, 'data', 'vienna4x22');
const hasVienna = existsSync(vienna);
const viennaWords = hasVienna ? '' : ' (skipped: open data not here)';

const requireOfFormats = createRequire(join(root, 'packages', 'formats', 'package.json'));
const { parseMidi } = requireOfFormats('midi-file') as {
  parseMidi: (bytes: Uint8Array) => { readonly tracks: readonly (readonly Record<string, unknown>[])[] };
};
const { unzipSync, zipSync } = requireOfFormats('fflate') as {
  unzipSync: (bytes: Uint8Array) => Record<string, Uint8Array>;
  zipSync: (entries: Record<string, Uint8Array>) => Uint8Array;
};

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-fingering-'));
  run('--help'); // builds once, so that no test's time depends on it
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true }));

function run(...words: string[]) {
  return spawnSync(process.execPath, [bin, ...words], { cwd: folder, encoding: 'utf8' });
}

/** What xmllint has against a document; empty where it is valid. */
function complaints(xml: string): string {
  const lint = spawnSync('xmllint', ['--nonet', '--noout', '--schema', schema, '-'], { input: xml, encoding: 'utf8' });
  return lint.status === 0 ? '' : lint.stderr;
}

/** Takes out what a copy has more than its original, if that is nothing but fingerings and what they stand in. */
function withoutFingers(copy: string): string {
  return copy
    .replaceAll(
      /\s*<notations><technical><fingering placement="\w+">[1-5]<\/fingering><\/technical><\/notations>/gu,
      '',
    )
    .replaceAll(/\s*<technical><fingering placement="\w+">[1-5]<\/fingering><\/technical>/gu, '')
    .replaceAll(/\s*<fingering placement="\w+">[1-5]<\/fingering>/gu, '');
}

function fingered(xml: string, side: HandSide): string {
  const hand = readScoreHand(new TextEncoder().encode(xml), { side });
  if (!hand.ok) throw new Error(JSON.stringify(hand.issues));
  const line = fingerLine(hand.value.notes, { side, model: fingeringModel('fivespan') });
  if (!line.ok) throw new Error(JSON.stringify(line.issues));
  return new TextDecoder().decode(writeScoreFingers(hand.value, line.value.fingers));
}

/** Notes of a staff, by the text alone: struck ones have a pitch and no tie that stops. */
function struckNotes(xml: string, staff: number): string[] {
  return [...xml.matchAll(/<note\b[\s\S]*?<\/note>/gu)]
    .map(([note]) => note)
    .filter((note) => /<pitch>/u.test(note) && !/<tie type="stop"\/>/u.test(note))
    .filter((note) => Number(/<staff>(\d)<\/staff>/u.exec(note)?.[1] ?? 1) === staff);
}

/** A small score of ours with all that notes carry: grace notes, ties, chords, two voices, lyrics, marks, two staves. */
const SMALL = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0">
  <part-list><score-part id="P1"><part-name>Keys</part-name></score-part></part-list>
  <part id="P1">
    <measure number="1">
      <attributes>
        <divisions>2</divisions><key><fifths>-1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>
        <staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef>
      </attributes>
      <note><grace slash="yes"/><pitch><step>E</step><octave>5</octave></pitch><voice>1</voice><type>eighth</type><staff>1</staff><lyric><text>oh</text></lyric></note>
      <note><pitch><step>F</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>quarter</type><staff>1</staff>
        <notations><articulations><accent/></articulations></notations><lyric><text>go</text></lyric></note>
      <note><pitch><step>A</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>quarter</type><staff>1</staff>
        <notations><technical><fingering>2</fingering></technical></notations></note>
      <note><pitch><step>B</step><alter>-1</alter><octave>4</octave></pitch><duration>4</duration><tie type="start"/><voice>1</voice><type>half</type><staff>1</staff>
        <notations><tied type="start"/><technical><open-string/></technical></notations></note>
      <note><chord/><pitch><step>D</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>half</type><staff>1</staff><notations/></note>
      <backup><duration>8</duration></backup>
      <note><rest/><duration>4</duration><voice>2</voice><type>half</type><staff>1</staff></note>
      <note><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration><voice>2</voice><type>half</type><stem>down</stem><staff>1</staff></note>
      <backup><duration>8</duration></backup>
      <note><pitch><step>F</step><octave>3</octave></pitch><duration>8</duration><voice>3</voice><type>whole</type><staff>2</staff></note>
    </measure>
    <measure number="2">
      <note><pitch><step>B</step><alter>-1</alter><octave>4</octave></pitch><duration>8</duration><tie type="stop"/><voice>1</voice><type>whole</type><staff>1</staff>
        <notations><tied type="stop"/></notations></note>
      <backup><duration>8</duration></backup>
      <note><pitch><step>C</step><octave>3</octave></pitch><duration>8</duration><voice>3</voice><type>whole</type><staff>2</staff></note>
    </measure>
  </part>
</score-partwise>
`;

describe('a copy of a score', () => {
  test('of ours: a finger on every struck note, none on the tied one, the written one kept', () => {
    const copy = fingered(SMALL, 'right');
    const notes = struckNotes(copy, 1);
    expect(notes).toHaveLength(6);
    for (const note of notes) expect(note.match(/<fingering\b/gu)).toHaveLength(1);
    expect(copy.match(/<fingering\b/gu)).toHaveLength(6);
    expect(copy).toContain('<notations><technical><fingering>2</fingering></technical></notations>');
    expect(withoutFingers(copy)).toBe(SMALL);
    const both = fingered(copy, 'left');
    expect(both.match(/<fingering placement="below">/gu)).toHaveLength(2);
    expect(withoutFingers(both)).toBe(SMALL);
  });

  test.skipIf(!canValidate)(`the schema takes it as it took the score${schemaWords}`, () => {
    expect(complaints(SMALL)).toBe('');
    expect(complaints(fingered(fingered(SMALL, 'right'), 'left'))).toBe('');
    // and would not, were the notations behind the lyric
    expect(complaints(SMALL.replace(/(<lyric>[\s\S]*?<\/lyric>)/u, '$1<notations/>'))).not.toBe('');
  });

  test(`lesson.musicxml of the demo: both hands, written fingers kept${schemaWords}`, () => {
    const read = readChart(readFileSync(join(root, 'examples', 'DEMO.chart'), 'utf8'));
    if (!read.ok) throw new Error(JSON.stringify(read.issues));
    const xml = writeMusicXml(makeLesson(read.value, DEFAULT_CHOICES).score);
    // the chorus has its fingers already: nothing is left to write; the walking bass gets them all
    expect(fingered(xml, 'right')).toBe(xml);
    const copy = fingered(xml, 'left');
    const [piano = ''] = copy.split('</part>');
    const bass = struckNotes(piano, 2);
    expect(bass.length).toBeGreaterThan(30);
    for (const note of bass) expect(note).toMatch(/<fingering placement="below">[1-5]<\/fingering>/u);
    if (canValidate) expect(complaints(copy)).toBe('');
  });

  test.skipIf(!hasVienna).each(['right', 'left'] as const)(
    `a printed score, %s hand: every struck note${viennaWords}`,
    (side) => {
      const file = readdirSync(vienna).find((name) => name.endsWith('.musicxml')) ?? '';
      const xml = readFileSync(join(vienna, file), 'utf8');
      const copy = fingered(xml, side);
      const notes = struckNotes(copy, side === 'right' ? 1 : 2);
      expect(notes.length).toBeGreaterThan(100);
      for (const note of notes) expect(note.match(/<fingering\b/gu)).toHaveLength(1);
      expect(copy.match(/<fingering\b/gu)).toHaveLength(notes.length);
      expect(withoutFingers(copy)).toBe(xml);
      if (canValidate && complaints(xml) === '') expect(complaints(copy)).toBe('');
    },
  );
});

describe('the command', () => {
  const put = (name: string, content: string | Uint8Array): string => {
    writeFileSync(join(folder, name), content);
    return name;
  };

  test('writes beside the file, prints bars, costs, model and place; the file stays', () => {
    put('small.musicxml', SMALL);
    const { status, stdout, stderr } = run('fingering', 'small.musicxml', '--hand-side', 'right');
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/^small\.musicxml · right hand · 6 notes · model fivespan/u);
    expect(stdout).toMatch(/^1 {4}E5·\d F5·\d A4·2 G4·\d\+B♭4·\d\+D5·\d$/mu);
    expect(stdout).toMatch(/^It costs [\d.]+ points: /mu);
    expect(stdout).toContain('The copy is in small.fingered.musicxml');
    expect(readFileSync(join(folder, 'small.musicxml'), 'utf8')).toBe(SMALL);
    expect(withoutFingers(readFileSync(join(folder, 'small.fingered.musicxml'), 'utf8'))).toBe(SMALL);
  });

  test('--json says the same as the copy', () => {
    put('json.musicxml', SMALL);
    const { status, stdout } = run(
      'fingering',
      'json.musicxml',
      '--hand-side',
      'left',
      '--model',
      'parncutt',
      '--out',
      'new/j.xml',
      '--json',
    );
    expect(status).toBe(0);
    const report = JSON.parse(stdout) as Record<string, unknown> & {
      notes: Record<string, unknown>[];
      pointsByRule: Record<string, number>;
    };
    expect(report).toMatchObject({
      version: 1,
      file: 'json.musicxml',
      handSide: 'left',
      model: 'parncutt',
      out: 'new/j.xml',
    });
    expect(report.notes.map(({ bar, startTicks, name, midi }) => ({ bar, startTicks, name, midi }))).toEqual([
      { bar: 1, startTicks: 0, name: 'F3', midi: 53 },
      { bar: 2, startTicks: 3840, name: 'C3', midi: 48 },
    ]);
    expect(Object.values(report.pointsByRule).reduce((sum, each) => sum + each, 0)).toBe(report['points']);
    const copy = readFileSync(join(folder, 'new', 'j.xml'), 'utf8');
    expect([...copy.matchAll(/"below">(\d)/gu)].map(([, finger]) => Number(finger))).toEqual(
      report.notes.map(({ finger }) => finger),
    );
  });

  test('a size of hand takes the model that heeds it, and a small hand gets other fingers', () => {
    const chord = (...names: readonly string[]): string =>
      names
        .map((name, index) => {
          const alter = name.includes('b') ? '<alter>-1</alter>' : '';
          const pitch = `<step>${name[0]}</step>${alter}<octave>${name.at(-1)}</octave>`;
          return `<note>${index > 0 ? '<chord/>' : ''}<pitch>${pitch}</pitch><duration>1</duration></note>`;
        })
        .join('');
    const line = chord('Eb4', 'G4', 'C5') + chord('Db4', 'G4', 'Bb4') + chord('C4', 'Ab4');
    put('wide.musicxml', `<score-partwise><part id="P1"><measure number="1">${line}</measure></part></score-partwise>`);
    const [small, large] = ['small', 'large'].map((hand) => {
      const { stdout, stderr } = run('fingering', 'wide.musicxml', '--hand-side', 'right', '--hand', hand, '--json');
      expect(stderr).toContain('balliauw is taken');
      const report = JSON.parse(stdout) as { points: number; notes: { finger: number }[] };
      return { points: report.points, fingers: report.notes.map(({ finger }) => finger) };
    });
    expect(small?.points).toBeGreaterThan(large?.points ?? Number.POSITIVE_INFINITY);
    expect(small?.fingers).not.toEqual(large?.fingers);
    const { stderr } = run(
      'fingering',
      'wide.musicxml',
      '--hand-side',
      'right',
      '--hand',
      'small',
      '--model',
      'jacobs',
    );
    expect(stderr).toContain('--hand changes nothing with --model jacobs');
  });

  test('a packed score comes back packed, or plain where its name says so', () => {
    const container = '<container><rootfiles><rootfile full-path="s.xml"/></rootfiles></container>';
    put(
      'packed.mxl',
      zipSync({
        'META-INF/container.xml': new TextEncoder().encode(container),
        's.xml': new TextEncoder().encode(SMALL),
      }),
    );
    expect(run('fingering', 'packed.mxl', '--hand-side', 'right').status).toBe(0);
    const entries = unzipSync(readFileSync(join(folder, 'packed.fingered.mxl')));
    expect(withoutFingers(new TextDecoder().decode(entries['s.xml']))).toBe(SMALL);
    expect(run('fingering', 'packed.mxl', '--hand-side', 'right', '--out', 'plain.musicxml').status).toBe(0);
    expect(withoutFingers(readFileSync(join(folder, 'plain.musicxml'), 'utf8'))).toBe(SMALL);
  });

  test.skipIf(!hasVienna).each(['right', 'left'] as const)(
    `a played MIDI file, %s hand: a lyric for each note on its side of middle C, all else as it was${viennaWords}`,
    (side) => {
      const name = readdirSync(vienna).find((each) => each.endsWith('.mid')) ?? '';
      cpSync(join(vienna, name), join(folder, `${side}.mid`));
      const { status, stdout, stderr } = run('fingering', `${side}.mid`, '--hand-side', side);
      expect(status).toBe(0);
      expect(stderr).toContain('middle C');
      expect(stdout).toContain(`${side}.fingered.mid`);
      const [before, after] = [`${side}.mid`, `${side}.fingered.mid`].map((each) =>
        parseMidi(readFileSync(join(folder, each))),
      );
      const clock = (track: readonly Record<string, unknown>[], lyrics: boolean) => {
        let ticks = 0;
        const all = track.map((each) => {
          // whether a status byte is left out is no part of the music
          const { deltaTime, running: _, ...event } = each;
          ticks += Number(deltaTime);
          return { ticks, event };
        });
        return all.filter(({ event }) => (event['type'] === 'lyrics') === lyrics);
      };
      const notes = before?.tracks.flatMap((track) =>
        track.filter((each) => each['type'] === 'noteOn' && Number(each['noteNumber']) >= 60 === (side === 'right')),
      );
      expect(after?.tracks.flatMap((track) => clock(track, true))).toHaveLength(notes?.length ?? -1);
      expect(after?.tracks.map((track) => clock(track, false))).toEqual(
        before?.tracks.map((track) => clock(track, false)),
      );
    },
  );

  test.each([
    [['fingering', 'small.musicxml'], '--hand-side right or left is missing'],
    [['fingering', 'small.musicxml', '--hand-side', 'both'], "not 'both'"],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--model', 'best'], "not 'best'"],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--staff', '0'], '--staff takes a number'],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--track', '1'], '--part N --staff N'],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--out', 'small.mid'], 'ends in .musicxml or .xml'],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--out', './small.musicxml'], 'the file itself'],
    [['fingering', 'small.musicxml', '--hand-side', 'left', '--out', 'link.musicxml'], 'the file itself'],
  ])('%j is a wrong call: exit 2, nothing written', (words, message) => {
    put('small.musicxml', SMALL);
    if (!existsSync(join(folder, 'link.musicxml'))) symlinkSync('small.musicxml', join(folder, 'link.musicxml'));
    const { status, stdout, stderr } = run(...words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(message);
    expect(readFileSync(join(folder, 'small.musicxml'), 'utf8')).toBe(SMALL);
  });

  const entity = `<!DOCTYPE score-partwise [<!ENTITY a "${'x'.repeat(99)}"><!ENTITY b "&a;&a;&a;">]>${SMALL.slice(SMALL.indexOf('<score-partwise'))}`;
  test.each([
    ['is not there', 'none.musicxml', null, 'none.musicxml'],
    ['is no music', 'text.musicxml', 'C major', 'neither MusicXML nor a MIDI file'],
    ['is cut off', 'cut.musicxml', SMALL.slice(0, 900), 'damaged or cut off'],
    ['expands entities', 'bomb.musicxml', entity.replace('<text>go', '<text>&b;'), 'damaged'],
    [
      'is a cut MIDI file',
      'cut.mid',
      Uint8Array.of(0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 1, 0, 9, 1, 224),
      'damaged or cut off',
    ],
    [
      'has a staff of six keys at once',
      'six.musicxml',
      SMALL.replace(/<note><chord\/>[\s\S]*?<\/note>/u, (each) =>
        [2, 3, 5, 6].map((octave) => each.replace('<octave>5', `<octave>${octave}`)).join(''),
      ),
      '(bar 1)',
    ],
  ])('a file that %s: exit 1, told, nothing written', (_name, file, content, message) => {
    if (content !== null) put(file, content);
    const { status, stdout, stderr } = run('fingering', file, '--hand-side', 'right');
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toContain(message);
    expect(readdirSync(folder).filter((each) => each.startsWith(file.replace(/\.\w+$/u, '.fingered')))).toEqual([]);
    const json = run('fingering', file, '--hand-side', 'right', '--json');
    expect(json.status).toBe(1);
    expect(JSON.parse(json.stdout)).toMatchObject({ version: 1, file, issues: [{ severity: 'error' }] });
  });
});
