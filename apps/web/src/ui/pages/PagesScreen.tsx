import { keysOfLesson } from '@fivespan/core';
import { $orders, printedLesson, saveKeyFile, savePack, saveLessonFile } from '../../features/handing-out/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

export default function PagesScreen() {
  const lesson = printedLesson(useStore($open));
  const orders = useStore($orders);
  const key = lesson === null ? undefined : keysOfLesson(lesson.chart, lesson.choices)[0];
  return (
    <>
      <h1>{words.pages.title}</h1>
      {lesson !== null && key !== undefined && (
        <>
          <button onClick={() => void saveKeyFile(lesson, key, 'study.pdf', 'a4')}>Save PDF</button>
          <button onClick={() => void saveLessonFile(lesson)}>Save lesson</button>
          <button onClick={() => void savePack(lesson, [key], ['study.pdf', 'lesson.mid'], 'a4')}>Save pack</button>
        </>
      )}
      <pre>{JSON.stringify(orders)}</pre>
    </>
  );
}
