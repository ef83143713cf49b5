import { useState, type TextareaHTMLAttributes, type InputHTMLAttributes } from 'react';

interface Draft {
  readonly value: string;
  readonly write: (value: string) => void;
}

/**
 * What a field shows and does that writes what is typed at once and shows what became of it when it is left: a blank that is not
 * written yet is not taken from under the hand that types it.
 */
function useDraft({ value, write }: Draft) {
  const [draft, setDraft] = useState<{ readonly typed: string; readonly became: string } | null>(null);
  // changed from elsewhere meanwhile (undo, the text form): that is what counts
  const shown = draft !== null && draft.became === value ? draft.typed : value;
  return {
    value: shown,
    onChange: ({ currentTarget }: { readonly currentTarget: { readonly value: string } }): void => {
      const typed = currentTarget.value.replaceAll(/[\r\n]+/gu, ' ');
      const became = typed.replaceAll(/\s+/gu, ' ').trim();
      setDraft({ typed, became });
      write(typed);
    },
    onBlur: (): void => setDraft(null),
  };
}

/** A field of one line. */
export function DraftField({
  value,
  write,
  ...rest
}: Draft & Omit<InputHTMLAttributes<HTMLInputElement>, 'value' | 'onChange' | 'onBlur'>) {
  return <input {...rest} {...useDraft({ value, write })} />;
}

/** The same for what may be long: it is as wide and as high as its words, and Enter does not break them. */
export function WrappedField({
  value,
  write,
  ...rest
}: Draft & Omit<TextareaHTMLAttributes<HTMLTextAreaElement>, 'value' | 'onChange' | 'onBlur' | 'onKeyDown' | 'rows'>) {
  return (
    <textarea
      {...rest}
      rows={1}
      {...useDraft({ value, write })}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.preventDefault();
      }}
    />
  );
}
