import { barsOf, parseKey, unfold, type Bar, type Chart, type Result } from '@fivespan/core';
import { strToU8, zipSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readMusicXml } from './index.ts';
import { chart, FOUR, HALF, harmony, REST, score, warnings } from './invented-lead-sheet.ts';
import { keyOf } from './invented-score.ts';

const SEED = 20261125;

const fault = (result: Result<Chart>): string => (result.ok ? 'none' : result.issues.map((each) => each.code).join());

/** Bars as text: `|: 1[1,2] Fm7@0 Bb7@1920 :|3`. */
function barText(bar: Bar): string {
  const slots = bar.slots.map((slot) => `${slot.chord.symbol}@${slot.startTicks}`).join(' ');
  const ending = bar.endings.length > 0 ? `${bar.startsEnding ? '>' : ''}[${bar.endings.join()}] ` : '';
  return `${bar.startsRepeat ? '|: ' : ''}${ending}${slots}${bar.endsRepeatTimes > 0 ? ` :|${bar.endsRepeatTimes}` : ''}`;
}
const text = (value: Chart): string[] => barsOf(value).map(barText);

describe('places', () => {
  test('a chord goes on until the next, over bar lines; before the first there is none', () => {
    const read = readMusicXml(
      score(FOUR + HALF + harmony('C', 'major') + HALF, REST, HALF + harmony('F', 'major') + HALF),
    );
    expect(text(chart(read))).toEqual(['N.C.@0 C@1920', 'C@0', 'C@0 F@1920']);
  });

  test('an offset moves a chord; before the bar line it belongs to the bar before', () => {
    const read = readMusicXml(
      score(
        FOUR + harmony('C', 'major') + REST,
        harmony('F', 'major', '<offset>-1</offset>') + harmony('G', 'dominant', '<offset>6</offset>') + REST,
      ),
    );
    expect(text(chart(read))).toEqual(['C@0 F@3360', 'F@0 G7@2880']);
  });

  test('chords at one place share the time, and it is said', () => {
    const read = readMusicXml(score(FOUR + harmony('C', 'major') + harmony('A', 'minor') + REST));
    expect(text(chart(read))).toEqual(['C@0 Am@1920']);
    expect(warnings(read)).toEqual(['1 musicxml.chords-at-one-place']);
  });

  test('more chords at one place than the bar has room for are left out, and it is said', () => {
    const crowd = Array.from({ length: 100 }, (_, index) => harmony('CDEFGAB'[index % 7] ?? 'C', 'major')).join('');
    const read = readMusicXml(score(FOUR + crowd + REST, harmony('C', 'major') + REST));
    const bars = barsOf(chart(read));
    expect(bars.map((bar) => bar.slots.length)).toEqual([48, 1]);
    for (const bar of bars) {
      let at = 0;
      for (const slot of bar.slots) {
        expect(slot.startTicks).toBe(at);
        at += slot.durationTicks;
      }
      expect(at).toBe(bar.durationTicks);
    }
    expect(warnings(read).filter((each) => each === '1 musicxml.chord-dropped')).toHaveLength(52);
  });

  test('a chord behind its bar is moved to its last beat, and it is said', () => {
    const read = readMusicXml(
      score(FOUR + harmony('C', 'major') + harmony('F', 'major', '<offset>20</offset>') + REST, REST),
    );
    expect(text(chart(read))[0]).toBe('C@0 F@2880');
    expect(warnings(read)).toEqual(['1 musicxml.chord-outside-bar']);
  });
});

describe('chords', () => {
  const read = (kind: string, more = ''): string =>
    text(chart(readMusicXml(score(FOUR + harmony('F', kind, more) + REST))))[0]?.replace('@0', '') ?? '';
  const change = (value: number, alter: number, type: string): string =>
    `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`;

  // MusicXML 4.0, degree-alter: an added degree counts against a dominant chord, an altered one against the kind's own
  test.each([
    ['dominant', change(9, -1, 'add'), 'F7(b9)'],
    ['dominant', change(5, 1, 'alter') + change(9, 1, 'add'), 'F+7(#9)'],
    ['dominant', change(3, 0, 'subtract') + change(4, 0, 'add'), 'F7sus'],
    ['suspended-fourth', change(7, 0, 'add'), 'F7sus'],
    ['suspended-fourth', change(7, 1, 'add'), 'Fmaj7sus'],
    ['minor', change(7, 1, 'add'), 'Fm(maj7)'],
    ['major', change(9, 0, 'add'), 'F(add9)'],
    ['major', change(2, 0, 'add'), 'F(add9)'],
    ['major-sixth', change(9, 0, 'add'), 'F6/9'],
    ['half-diminished', '', 'Fm7b5'],
    ['minor-seventh', change(5, -1, 'alter'), 'Fm7b5'],
    ['other', change(3, -1, 'add') + change(5, -1, 'add') + change(7, -1, 'add'), 'Fdim7'],
    ['major', '<inversion>1</inversion>', 'F/A'],
    ['major', '<bass><bass-step>E</bass-step><bass-alter>-1</bass-alter></bass>', 'F/Eb'],
    ['none', '', 'N.C.'],
  ])('%s %s', (kind, more, symbol) => expect(read(kind, more)).toBe(symbol));

  test('the printed name decides where the kind says nothing, and names an altered chord', () => {
    const printed = (kind: string, name: string): string =>
      text(
        chart(
          readMusicXml(
            score(
              `${FOUR}<harmony><root><root-step>G</root-step></root><kind text="${name}">${kind}</kind></harmony>${REST}`,
            ),
          ),
        ),
      ).join();
    expect(printed('other', 'm9')).toBe('Gm9@0');
    expect(printed('dominant', '7alt')).toBe('G7alt@0');
    // the kind is what the file means, the text only how it looks
    expect(printed('dominant', '9')).toBe('G7@0');
  });

  test('what is not understood is said with its bar, and the chord before goes on', () => {
    const result = readMusicXml(score(FOUR + harmony('F', 'major') + REST, harmony('C', 'pedal') + REST));
    expect(text(chart(result))).toEqual(['F@0', 'F@0']);
    expect(warnings(result)).toEqual(['2 musicxml.chord-dropped']);
  });
});

describe('keys, metres, pickups', () => {
  const key = (fifths: number, mode: string): string =>
    `<key><fifths>${fifths}</fifths>${mode === '' ? '' : `<mode>${mode}</mode>`}</key>`;
  const keyed = (inside: string): Result<Chart> =>
    readMusicXml(score(`<attributes><divisions>2</divisions>${inside}</attributes>${harmony('C', 'major')}${REST}`));

  test.each([
    [-3, 'major', 'Eb major', []],
    [-3, 'minor', 'C minor', []],
    [7, 'major', 'C# major', []],
    [0, 'dorian', 'D minor', ['1 musicxml.key-not-read']],
  ] as const)('%i %s', (fifths, mode, expected, said) => {
    const read = keyed(key(fifths, mode));
    expect(chart(read).key).toEqual(parseKey(expected));
    expect(warnings(read)).toEqual(said);
  });

  test('a signature without a mode states no key', () => {
    const read = keyed(key(-3, ''));
    expect(chart(read).key).toBeNull();
    expect(warnings(read)).toEqual(['1 musicxml.key-without-mode']);
  });

  test('a transposing part comes out at concert pitch', () => {
    const transpose = '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>';
    const read = keyed(`${key(2, 'major')}<time><beats>4</beats><beat-type>4</beat-type></time>${transpose}`);
    expect(text(chart(read))).toEqual(['Bb@0']);
    expect(chart(read).key).toEqual(keyOf('C major'));
    expect(warnings(read)).toEqual(['1 musicxml.transposed']);
  });

  test('an instrument change moves the chords from there on', () => {
    const transposed = (more: string): string =>
      `<attributes><transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>${more}</attributes>`;
    const read = readMusicXml(
      score(FOUR + harmony('C', 'major') + REST, transposed(key(3, 'major')) + harmony('A', 'major') + REST),
    );
    expect(text(chart(read))).toEqual(['C@0', 'C@0']);
    expect(warnings(read)).toEqual(['2 musicxml.transposed']);
  });

  test('a transposition past seven signs is written on the other side, key and chords alike', () => {
    const transpose = '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>';
    const read = readMusicXml(
      score(
        `<attributes><divisions>2</divisions>${key(-6, 'major')}${transpose}</attributes>` +
          `<harmony><root><root-step>G</root-step><root-alter>-1</root-alter></root><kind>major</kind></harmony>${REST}`,
      ),
    );
    expect(text(chart(read))).toEqual(['E@0']);
    expect(chart(read).key).toEqual(keyOf('E major'));
  });

  test('a short first measure is bar 0; 3+2/8 adds up; another length is a bar of its own metre', () => {
    const five = '<attributes><time><beats>3+2</beats><beat-type>8</beat-type></time></attributes>';
    const read = readMusicXml(
      score(
        `${FOUR}${harmony('G', 'dominant')}<note><rest/><duration>2</duration></note>`,
        harmony('C', 'major') + REST,
        `${five}<note><rest/><duration>5</duration></note>`,
        '<note><rest/><duration>2</duration></note>',
      ),
    );
    const bars = barsOf(chart(read));
    expect(bars.map((bar) => [bar.number, bar.durationTicks, `${bar.meter.count}/${bar.meter.unit}`])).toEqual([
      [0, 960, '4/4'],
      [1, 3840, '4/4'],
      [2, 2400, '5/8'],
      [3, 960, '2/8'],
    ]);
    expect(warnings(read)).toEqual(['3 musicxml.bar-length']);
  });
});

describe('form', () => {
  const ending = (numbers: string, type: string): string => `<ending number="${numbers}" type="${type}"/>`;
  const left = (inside: string): string => `<barline location="left">${inside}</barline>`;
  const right = (inside: string): string => `<barline location="right">${inside}</barline>`;
  const back = '<repeat direction="backward"/>';
  const forward = '<repeat direction="forward"/>';
  const c = harmony('C', 'major') + REST;

  test('a repeat without a start goes back to the first full bar', () => {
    const read = readMusicXml(score(FOUR + c, c + right(back), c));
    expect(text(chart(read))).toEqual(['|: C@0', 'C@0 :|2', 'C@0']);
  });

  test('three endings: every one that sends back says three', () => {
    const read = readMusicXml(
      score(
        FOUR + left(forward) + c,
        left(ending('1', 'start')) + c + right(ending('1', 'stop') + back),
        left(ending('2', 'start')) + c + right(ending('2', 'stop') + back),
        left(ending('3', 'start')) + c + right(ending('3', 'discontinue')),
        c,
      ),
    );
    expect(text(chart(read))).toEqual(['|: C@0', '>[1] C@0 :|3', '>[2] C@0 :|3', '>[3] C@0', 'C@0']);
    expect(unfold(chart(read)).bars.map(({ bar }) => bar.number)).toEqual([1, 2, 1, 3, 1, 4, 5]);
  });

  test('one bracket for two times', () => {
    const read = readMusicXml(
      score(
        FOUR + c,
        left(ending('1, 2', 'start')) + c + right(ending('1, 2', 'stop') + back),
        left(ending('3', 'start')) + c,
      ),
    );
    expect(unfold(chart(read)).bars.map(({ bar }) => bar.number)).toEqual([1, 2, 1, 2, 1, 3]);
  });

  test('a first ending alone has its second in the bar after it', () => {
    const read = readMusicXml(
      score(FOUR + c, left(ending('1', 'start')) + c + right(ending('1', 'stop') + back), c, c),
    );
    expect(unfold(chart(read)).bars.map(({ bar }) => bar.number)).toEqual([1, 2, 1, 3, 4]);
  });

  test('what cannot be played out is left out and said', () => {
    const read = readMusicXml(
      score(
        FOUR + left(forward) + c,
        `<direction><direction-type><words>D.S. al Coda</words></direction-type></direction>${c}`,
        left(ending('2', 'start')) + c + right(ending('2', 'stop')),
      ),
    );
    expect(text(chart(read))).toEqual(['C@0', 'C@0', 'C@0']);
    expect(warnings(read)).toEqual(['1 musicxml.form-left-out', '2 musicxml.form-left-out']);
  });

  test('D.S. al Coda and D.C. al Fine, by words and signs', () => {
    const words = (each: string): string =>
      `<direction><direction-type><words>${each}</words></direction-type></direction>`;
    const sign = (each: string): string => `<direction><direction-type><${each}/></direction-type></direction>`;
    const segno = readMusicXml(
      score(FOUR + c, sign('segno') + c + words('To Coda'), c + words('D.S. al Coda'), sign('coda') + c),
    );
    expect(unfold(chart(segno)).bars.map(({ bar }) => bar.number)).toEqual([1, 2, 3, 2, 4]);
    const fine = readMusicXml(score(FOUR + c, c + words('Fine'), c + words('D.C. al Fine')));
    expect(unfold(chart(fine)).bars.map(({ bar }) => bar.number)).toEqual([1, 2, 3, 1, 2]);
  });

  test('rehearsal marks are sections; one on the first full bar takes the pickup along', () => {
    const mark = (name: string): string =>
      `<direction><direction-type><rehearsal>${name}</rehearsal></direction-type></direction>`;
    const read = readMusicXml(
      score(`${FOUR}<note><rest/><duration>2</duration></note>`, mark('A') + c, c, mark(' B\n ') + c),
    );
    expect(chart(read).sections.map(({ name, bars }) => [name, bars.length])).toEqual([
      ['A', 3],
      ['B', 1],
    ]);
  });
});

describe('the file itself', () => {
  const good = score(FOUR + harmony('C', 'major') + REST);

  test.each([
    ['nothing', '', 'musicxml.not-xml'],
    ['no XML', 'Fm7 | Bb7', 'musicxml.not-xml'],
    ['cut off', good.slice(0, 300), 'musicxml.not-xml'],
    ['another document', '<html><body/></html>', 'musicxml.not-a-score'],
    ['timewise', '<score-timewise/>', 'musicxml.timewise'],
    ['an entity', `<!DOCTYPE score-partwise [<!ENTITY a "b">]>${good.replace('Lead', '&a;')}`, 'musicxml.not-xml'],
    ['elements in elements', '<score-partwise>' + '<a>'.repeat(10_000), 'musicxml.not-xml'],
  ])('%s is refused', (_name, xml, code) => expect(fault(readMusicXml(xml))).toBe(code));

  test('a place is told by line and column', () => {
    const broken = readMusicXml('<score-partwise>\n  <part>\n</score-partwise>');
    expect(broken.ok ? {} : broken.issues[0]?.place).toMatchObject({ line: 3 });
  });

  test('UTF-8, UTF-16 and Latin-1 give the same chart', () => {
    const titled = good.replace('<part-list>', '<movement-title>Süß</movement-title><part-list>');
    const declared = (encoding: string): string => `<?xml version="1.0" encoding="${encoding}"?>${titled}`;
    const utf16 = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(declared('UTF-16'), 'utf16le')]);
    const files = [Buffer.from(titled), Buffer.from(declared('ISO-8859-1'), 'latin1'), utf16];
    for (const file of files) expect(chart(readMusicXml(file)).title).toBe('Süß');
    expect(fault(readMusicXml(Buffer.from([0x3c, 0xff, 0xff])))).toBe('musicxml.not-text');
    expect(fault(readMusicXml(Buffer.from(declared('EBCDIC'))))).toBe('musicxml.not-text');
  });

  const container = (path: string): Uint8Array =>
    strToU8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);

  test('packed: by the container, else the only score', () => {
    const byContainer = zipSync({ 'META-INF/container.xml': container('a/b.xml'), 'a/b.xml': strToU8(good) });
    expect(text(chart(readMusicXml(byContainer)))).toEqual(['C@0']);
    expect(text(chart(readMusicXml(zipSync({ 'x.musicxml': strToU8(good) }))))).toEqual(['C@0']);
  });

  test('packed and hostile', () => {
    const packed = zipSync({ 'META-INF/container.xml': container('b.xml'), 'b.xml': strToU8(good) });
    expect(fault(readMusicXml(packed.slice(0, -30)))).toBe('musicxml.damaged-zip');
    expect(fault(readMusicXml(Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0)))).toBe('musicxml.damaged-zip');
    expect(fault(readMusicXml(zipSync({ 'a.xml': strToU8(good), 'b.xml': strToU8(good) })))).toBe(
      'musicxml.no-score-in-zip',
    );
    expect(fault(readMusicXml(zipSync({ 'picture.png': strToU8('x') })))).toBe('musicxml.no-score-in-zip');
    // 40 MB of spaces pack to some tens of kilobytes: refused by the size they say they have
    const bomb = zipSync({ 'b.xml': new Uint8Array(40 * 1024 * 1024).fill(32) });
    expect(bomb.length).toBeLessThan(100_000);
    expect(fault(readMusicXml(bomb))).toBe('musicxml.too-large');
    // and by what comes out, where the headers lie
    const lying = bomb.slice();
    const view = new DataView(lying.buffer);
    for (let at = 0; at < lying.length - 4; at++) {
      const signature = view.getUint32(at, true);
      if (signature === 0x04034b50) view.setUint32(at + 22, 100, true);
      if (signature === 0x02014b50) view.setUint32(at + 24, 100, true);
    }
    expect(fault(readMusicXml(lying))).toBe('musicxml.too-large');
  });

  test('a score without symbols is an empty chart that says so', () => {
    const read = readMusicXml(score(FOUR + REST, REST));
    expect(chart(read).sections).toEqual([]);
    expect(warnings(read)).toEqual(['- musicxml.no-chords']);
  });

  test('law: bytes that were a score and have been damaged never throw', () => {
    const packed = zipSync({ 'META-INF/container.xml': container('b.xml'), 'b.xml': strToU8(good) });
    const damage = fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), { minLength: 1, maxLength: 8 });
    for (const bytes of [packed, strToU8(good)]) {
      fc.assert(
        fc.property(damage, (places) => {
          const damaged = bytes.slice();
          for (const [place, value] of places) damaged[place % damaged.length] = value;
          const read = readMusicXml(damaged);
          expect(read.ok || read.issues.length > 0).toBe(true);
        }),
        { seed: SEED, numRuns: 200 },
      );
    }
  });
});
