// oxlint-disable-next-line typescript/triple-slash-reference -- the engine ships no types; packages that compile this source must find ours
/// <reference path="./verovio.d.ts" />
// oxlint-disable-next-line typescript/triple-slash-reference -- the engine ships no types; packages that compile this source must find ours
/// <reference path="./wawoff2.d.ts" />

/** The smallest score whose picture needs the music font in a text: a metronome mark. */
const METRONOME_MARK =
  '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">' +
  '<measure number="1"><attributes><divisions>1</divisions></attributes><direction placement="above"><direction-type>' +
  '<metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>' +
  '<note><rest measure="yes"/><duration>4</duration></note></measure></part></score-partwise>';

function bytesOfBase64(text: string): Uint8Array {
  return Uint8Array.from(atob(text), (each) => each.charCodeAt(0));
}

/**
 * The music font that texts of the engraver's pictures name (MUSIC_FONT_FAMILY), as TrueType: PDF writers draw blanks
 * with the WOFF2 inside the pictures. It is taken out of the engine, so that it always fits it.
 */
export async function musicFont(): Promise<Uint8Array> {
  const [{ default: createVerovioModule }, { VerovioToolkit, enableLog, LOG_OFF }, { decompress }] = await Promise.all([
    import('verovio/wasm'),
    import('verovio/esm'),
    import('wawoff2'),
  ]);
  const module = await createVerovioModule();
  const toolkit = new VerovioToolkit(module);
  enableLog(LOG_OFF, module);
  toolkit.setOptions({ font: 'Leipzig', smuflTextFont: 'embedded' });
  toolkit.loadData(METRONOME_MARK);
  const svg = toolkit.renderToSVG(1);
  toolkit.destroy();
  const encoded = /font-family:\s*'Leipzig';[^}]*base64,([A-Za-z0-9+/=]+)/u.exec(svg)?.[1];
  if (encoded === undefined) throw new TypeError('the engraving engine must embed its music font');
  return decompress(bytesOfBase64(encoded));
}
