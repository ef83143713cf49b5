import { PACK_CHOICES, PACK_FILES, type Key, type PackFileName } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { useState } from 'react';
import { savePack, type PrintedLesson } from '../../features/handing-out/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { KeysField } from './KeysField.tsx';
import styles from './Panel.module.css';

/** Several keys in one file. */
export function PackPanel({
  lesson,
  own,
  paper,
}: {
  readonly lesson: PrintedLesson;
  readonly own: Key;
  readonly paper: Paper;
}) {
  const [files, setFiles] = useState<readonly PackFileName[]>(PACK_FILES);
  const { keys } = lesson.choices;
  const keyText = useKeyText();
  const made = keys.length === 0 ? [own] : keys;
  const toggle = (file: PackFileName): void =>
    setFiles(PACK_CHOICES.filter((each) => (each === file ? !files.includes(each) : files.includes(each))));
  return (
    <>
      <p className="soft">{words.pages.packAbout}</p>
      <KeysField own={own} keys={keys} />
      <fieldset>
        <legend>{words.pages.files}</legend>
        {PACK_CHOICES.map((file) => (
          <label key={file} className={styles.option}>
            <input type="checkbox" checked={files.includes(file)} onChange={() => toggle(file)} />
            <span>{words.pages.fileNames[file]}</span>
          </label>
        ))}
      </fieldset>
      <p>
        <button
          className="main"
          disabled={files.length === 0}
          onClick={() => void savePack(lesson, made, files, paper)}
        >
          {files.length === 0
            ? words.pages.chooseFiles
            : words.pages.savePack(made.length, files.length, made.length === 1 ? keyText(made[0] as Key) : null)}
        </button>
      </p>
    </>
  );
}
