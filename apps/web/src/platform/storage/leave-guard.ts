/**
 * Has the browser ask before the page is closed while `isUnkept` says that something would be lost. Called once.
 */
export function guardLeaving(isUnkept: () => boolean): void {
  addEventListener('beforeunload', (event) => {
    if (isUnkept()) event.preventDefault();
  });
}
