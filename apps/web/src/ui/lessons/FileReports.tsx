import { $taking, leaveReports, type FileReport } from '../../features/outside-file/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { damageText } from './damage-text.ts';
import { faultText } from './fault-text.ts';
import { IssueList } from './IssueList.tsx';
import styles from './Lessons.module.css';

/** What became of files that did not come through whole, and of several at once. */
export function FileReports() {
  const { reports } = useStore($taking);
  if (reports.length === 0) return <div role="status" />;
  const plain = reports.length > 1 ? reports.filter(isPlain) : [];
  return (
    <section className={styles.reports} role="status">
      <h2>{words.lessons.reports}</h2>
      {plain.length > 0 && (
        <p>
          {words.lessons.filesMade(plain.length)}{' '}
          {plain.map(({ lesson, file }, index) => (
            // two files may have one name
            // oxlint-disable-next-line react/no-array-index-key
            <span key={index}>
              {index > 0 && ', '}
              {lesson !== null && <LessonLink lesson={lesson} file={file} />}
            </span>
          ))}
        </p>
      )}
      {reports
        .filter((report) => !plain.includes(report))
        .map((report, index) => (
          // oxlint-disable-next-line react/no-array-index-key
          <Report key={index} report={report} />
        ))}
      <button onClick={leaveReports}>{words.lessons.reportsDone}</button>
    </section>
  );
}

/** A file that came through whole: nothing is to be said of it but that it is there. */
function isPlain({ file, lesson, wasHere, fault }: FileReport): boolean {
  return lesson !== null && !wasHere && fault === null && file.kind === 'lesson' && file.issues.length === 0;
}

function LessonLink({
  lesson,
  file,
}: {
  readonly lesson: NonNullable<FileReport['lesson']>;
  readonly file: FileReport['file'];
}) {
  return (
    <a href={hrefOf({ kind: 'lesson', id: lesson.id, screen: isLessonFile(file) ? 'study' : 'chart' })}>
      {lesson.title || words.lessons.untitled}
    </a>
  );
}

function Report({ report: { fileName, file, lesson, wasHere, fault } }: { readonly report: FileReport }) {
  return (
    <div className={styles.report}>
      <p>
        <strong>{fileName}</strong>{' '}
        {lesson === null ? (
          words.lessons.fileRefused
        ) : (
          <>
            {wasHere ? words.lessons.fileHere : words.lessons.fileMade}: <LessonLink lesson={lesson} file={file} />
          </>
        )}
      </p>
      {fault !== null && (
        <p>
          {words.lessons.fileNotKept} {faultText(fault)}
        </p>
      )}
      <Reason file={file} />
    </div>
  );
}

/** A lesson is gone on with where it is studied; a chart is looked over first. */
function isLessonFile(file: FileReport['file']): boolean {
  return file.kind === 'lesson' && file.source === 'lesson';
}

function Reason({ file }: { readonly file: FileReport['file'] }) {
  switch (file.kind) {
    case 'lesson':
      return file.issues.length === 0 ? null : (
        <>
          <p className="soft">{words.lessons.fileLeftOut}</p>
          <IssueList issues={file.issues} />
        </>
      );
    case 'refused':
      return <IssueList issues={file.issues} />;
    case 'too large':
      return <p>{words.lessons.fileTooLarge(file.limitBytes, file.fileKind)}</p>;
    case 'unreadable':
      return <p>{words.lessons.fileUnreadable}</p>;
    case 'too slow':
      return <p>{words.lessons.fileTooSlow(file.limitSeconds)}</p>;
    case 'failed':
      return <p>{words.lessons.fileFailed(file.message)}</p>;
    case 'newer backup':
      return <p>{words.lessons.backupNewer(file.version)}</p>;
    case 'damaged backup':
      return <p>{words.lessons.backupDamaged(damageText(file.damage))}</p>;
    case 'backup':
      return null;
  }
}
