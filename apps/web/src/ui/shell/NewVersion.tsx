import { $newVersion, loadAnew, takeNewVersion } from '../../features/offline/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

/** Says that a newer version waits. It is put in place only when asked for, and when the last change is kept. */
export default function NewVersion() {
  const open = useStore($open);
  const isTaken = useStore($newVersion) === 'taken';
  const { newVersion } = words.shell;
  return (
    <>
      <p>
        {isTaken ? newVersion.taken : newVersion.told}{' '}
        <span className="soft">{isTaken ? newVersion.takenHint : newVersion.hint}</span>
      </p>
      <button
        type="button"
        disabled={open !== null && open.saving !== 'saved'}
        onClick={isTaken ? loadAnew : takeNewVersion}
      >
        {isTaken ? newVersion.load : newVersion.take}
      </button>
    </>
  );
}
