/**
 * Calls a function before each frame is painted.
 * @returns how to stop
 */
export function everyFrame(call: () => void): () => void {
  let asked = requestAnimationFrame(function frame() {
    asked = requestAnimationFrame(frame);
    call();
  });
  return () => cancelAnimationFrame(asked);
}
