import { useState, type InputHTMLAttributes } from 'react';

/**
 * A field that writes what is typed at once and shows what became of it when it is left: a blank that is not written yet is not
 * taken from under the hand that types it.
 */
export function DraftField({
  value,
  write,
  ...rest
}: {
  readonly value: string;
  readonly write: (value: string) => void;
} & Omit<InputHTMLAttributes<HTMLInputElement>, 'value' | 'onChange' | 'onBlur'>) {
  const [draft, setDraft] = useState<{ readonly typed: string; readonly became: string } | null>(null);
  // changed from elsewhere meanwhile (undo, the text form): that is what counts
  const shown = draft !== null && draft.became === value ? draft.typed : value;
  return (
    <input
      {...rest}
      value={shown}
      onChange={(event) => {
        const typed = event.currentTarget.value;
        const became = typed.replaceAll(/\s+/gu, ' ').trim();
        setDraft({ typed, became });
        write(typed);
      }}
      onBlur={() => setDraft(null)}
    />
  );
}
