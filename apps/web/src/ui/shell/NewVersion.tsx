import { takeNewVersion } from '../../features/offline/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

/** Says that a newer version waits. It is put in place only when asked for, and when the last change is kept. */
export default function NewVersion() {
  const open = useStore($open);
  const { newVersion } = words.shell;
  return (
    <>
      <p>
        {newVersion.told} <span className="soft">{newVersion.hint}</span>
      </p>
      <button type="button" disabled={open !== null && open.saving !== 'saved'} onClick={takeNewVersion}>
        {newVersion.take}
      </button>
    </>
  );
}
