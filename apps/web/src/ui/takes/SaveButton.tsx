import { useState } from 'react';
import { saveTakeFile, type TakeRecord } from '../../features/takes/index.ts';
import { words } from '../words/index.ts';

const w = words.takes;

/** Saves a take as a file. @param label where there are several on the screen */
export function SaveButton({ record, label }: { readonly record: TakeRecord; readonly label?: string }) {
  const [hasFailed, setHasFailed] = useState(false);
  return (
    <>
      <button
        aria-label={label}
        onClick={() => {
          saveTakeFile(record).then(
            (isSaved) => setHasFailed(!isSaved),
            () => setHasFailed(true),
          );
        }}
      >
        {w.save}
      </button>
      {hasFailed && <span role="alert">{w.notSaved}</span>}
    </>
  );
}
