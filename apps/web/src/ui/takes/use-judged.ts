import { useEffect, useState } from 'react';
import { judge, type TakeJudged } from '../../features/takes/index.ts';

/** What a take shows; null while it is judged, `'failed'` where it could not be. */
export function useJudged(take: string): TakeJudged | 'failed' | null {
  const [judged, setJudged] = useState<{ readonly take: string; readonly answer: TakeJudged | 'failed' } | null>(null);
  useEffect(() => {
    const ended = new AbortController();
    judge(take, ended.signal).then(
      (answer) => setJudged({ take, answer }),
      () => {
        if (!ended.signal.aborted) setJudged({ take, answer: 'failed' });
      },
    );
    return () => ended.abort(new DOMException('another take', 'AbortError'));
  }, [take]);
  return judged?.take === take ? judged.answer : null;
}
