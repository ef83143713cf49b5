/** A harmony as the file says it: nothing is understood yet. */
export interface ReadHarmony {
  /** From the measure's start, offset included. */
  readonly ticks: number;
  readonly root: { readonly step: string; readonly alter: number } | null;
  readonly bass: { readonly step: string; readonly alter: number } | null;
  readonly kind: string;
  /** What the file prints for the kind; empty where it does not say. */
  readonly text: string;
  readonly degrees: readonly {
    readonly value: number;
    readonly alter: number;
    readonly type: string;
    readonly isPrinted: boolean;
  }[];
  /** 0 is root position. */
  readonly inversion: number;
  /** Whether it is a numeral or a function and no chord symbol. */
  readonly isNumeral: boolean;
}

/** A key signature as the file says it. */
export interface ReadKey {
  readonly fifths: number | null;
  /** Empty where the file does not say. */
  readonly mode: string;
}

/** A time signature as the file says it; null where it has none (senza misura). */
export interface ReadMeter {
  readonly count: number;
  readonly unit: number;
  readonly text: string;
}

/** What a measure says of the form. */
export interface ReadForm {
  rehearsal: string | null;
  startsRepeat: boolean;
  /** 0 where no repeat ends. */
  endsRepeatTimes: number;
  /** Endings that begin here. */
  startsEnding: readonly number[];
  stopsEnding: boolean;
  segno: boolean;
  coda: boolean;
  toCoda: boolean;
  fine: boolean;
  jump: 'da capo' | 'dal segno' | null;
  jumpUntil: 'end' | 'fine' | 'coda';
}

/** A measure of a part, the notes counted and dropped. */
export interface ReadMeasure {
  readonly isImplicit: boolean;
  readonly number: string;
  /** How long its content lasts; 0 where it has none. */
  contentTicks: number;
  key: ReadKey | null;
  meter: ReadMeter | null;
  noteCount: number;
  /** Written to sounding pitch, on the line of fifths. */
  transposeFifths: number;
  readonly harmonies: ReadHarmony[];
  readonly form: ReadForm;
}

/** A part as read. */
export interface ReadPart {
  readonly id: string;
  name: string;
  /** Written to sounding pitch, on the line of fifths, as of the last measure read. */
  transposeFifths: number;
  readonly measures: ReadMeasure[];
}

/** A score as read, notes left out. */
export interface ReadScore {
  title: string;
  /** Quarters a minute where the file says it first. */
  quartersAMinute: number | null;
  feel: 'swing' | 'even' | null;
  readonly parts: ReadPart[];
}
