/**
 * The wall over the whole screen: a double press anywhere on it, with finger or mouse,
 * fills the screen and lets it go again. The browser demands a person's press for this;
 * its own key F11, which the empty wall names too, does the same without us.
 */

/** Joins the press to a page. `isWall` says whether the wall is what is shown. */
export function fillScreenOnDoublePress(page: Document, isWall: () => boolean): void {
  page.addEventListener('dblclick', () => {
    const turn = page.fullscreenElement
      ? page.exitFullscreen()
      : isWall()
        ? page.documentElement.requestFullscreen()
        : null;
    turn?.catch((reason: unknown) => {
      // Whoever pressed sees that nothing happened; the case is not touched by it.
      console.warn(`full screen: ${String(reason)}`);
    });
  });
}
