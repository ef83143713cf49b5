/** Writing a chart: bars in place, its text beside them, another key. The text is what is kept; all else are edits of it. */
export {
  $barEdit,
  $chosenBar,
  $focusAsked,
  askForFocus,
  barCount,
  beginEdit,
  cancelEdit,
  chooseBar,
  chordsTextOf,
  endEdit,
  redoChange,
  undoChange,
  writeDraft,
  type BarEdit,
} from './editing.ts';
export * from './commands.ts';
export { $canRedo, $canUndo, $isOpen, $isReadable, $reading } from './reading.ts';
export { $openKey, settleKey, watchOpenKey } from './open-key.ts';
export { suggestionOf, takeSuggestion } from './suggestion.ts';
export { $heading, $barTools, type BarToolsView } from './side-views.ts';
export {
  $page,
  $places,
  EMPTY_PAGE,
  offsetOf,
  type BarView,
  type ChordView,
  type PageView,
  type SectionView,
  type WordView,
} from './page-view.ts';
export { $keyNow, $shownIn, keysToChoose, previewIn, showIn } from './transposing.ts';
