import { NO_ANALYSIS_PINS, NO_PLAN_PINS, parseKey, usualKeys, type Choices, type Key } from '@fivespan/core';
import { UsageError, type Call } from './command.ts';

function textOf(call: Call, name: string): string | undefined {
  const value = call.options[name];
  return typeof value === 'string' ? value : undefined;
}

/** One of a few words, or the first of them where the option is not given. */
export function choiceOf<Word extends string>(call: Call, name: string, words: readonly [Word, ...Word[]], fallback: Word): Word {
  const text = textOf(call, name);
  if (text === undefined) return fallback;
  const word = words.find((each) => each === text);
  if (word === undefined) throw new UsageError(`--${name} takes ${words.join(', ')}, not '${text}'`);
  return word;
}

function seedOf(call: Call): number {
  const text = textOf(call, 'seed') ?? '1';
  const seed = Number(text);
  if (!/^\d+$/u.test(text) || seed > 0xffffffff) {
    throw new UsageError(`--seed takes a whole number from 0 to 4294967295, not '${text}'`);
  }
  return seed;
}

/**
 * A key as asked for: `Eb`, `Eb major`, `Cm`. A tonic alone takes the mode of the tune.
 * @throws UsageError where it is no key, or the tune is in the other mode
 */
export function readKeyOption(name: string, text: string, mode: Key['mode']): Key {
  const word = text.trim();
  const key = parseKey(/^[A-G][b#♭♯]?$/u.test(word) ? `${word} ${mode}` : word);
  if (key === undefined) {
    throw new UsageError(`--${name}: '${word}' is no ${mode} key that can be written; take one such as Eb or F#`);
  }
  if (key.mode !== mode) throw new UsageError(`--${name}: the tune is in ${mode}, so '${word}' cannot be its key`);
  return key;
}

/** The key of `--key`, null where it is not given. */
export function keyOf(call: Call, mode: Key['mode']): Key | null {
  const text = textOf(call, 'key');
  return text === undefined ? null : readKeyOption('key', text, mode);
}

/** The keys of `--keys`: names with commas, or all twelve; empty where it is not given. */
export function keysOf(call: Call, mode: Key['mode']): readonly Key[] {
  const text = textOf(call, 'keys');
  if (text === undefined) return [];
  if (text.trim() === 'all') return usualKeys(mode);
  const keys = text.split(',').map((word) => readKeyOption('keys', word, mode));
  return keys.filter((key, index) => keys.findIndex((each) => each.tonic === key.tonic) === index);
}

/** The choices the options make; keys apart, since they need the tune's mode. */
export function choicesOf(call: Call): Choices {
  return {
    keys: [],
    seed: seedOf(call),
    level: Number(choiceOf(call, 'level', ['1', '2', '3'], '1')) as Choices['level'],
    hand: choiceOf(call, 'hand', ['small', 'medium', 'large'], 'medium'),
    pins: { analysis: NO_ANALYSIS_PINS, plan: NO_PLAN_PINS },
  };
}
