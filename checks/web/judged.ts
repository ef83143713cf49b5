/** A page as axe-core judges it, and the contrasts it leaves to a person. */
import type { Page } from 'playwright-core';
import { axeIn, type Theme } from './axe.ts';

/**
 * The contrast of each text's own colour to the paper behind it, by the colours the page was given: what can be known
 * where axe cannot see through. The ground is what is painted next beneath its middle; null where the selector names
 * nothing any more. Asked for all at once: hundreds of calls took longer than axe does. Source: WCAG 2.2, definitions
 * of relative luminance and contrast ratio.
 */
function contrastsAt(selectors: readonly string[]): (number | null)[] {
  const numbersOf = (colour: string): number[] => (colour.match(/[\d.]+/gu) ?? []).map(Number);
  const luminance = (colour: string): number => {
    const [red = 0, green = 0, blue = 0] = numbersOf(colour).map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrastOf = (element: Element): number => {
    element.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
    const { left, top, width, height } = element.getBoundingClientRect();
    const [x, y] = [left + width / 2, top + height / 2];
    // what is over a picture without hindering the pointer is seen for this moment
    const drawing = element instanceof SVGElement ? element.ownerSVGElement : null;
    drawing?.style.setProperty('pointer-events', 'auto');
    const stack = document.elementsFromPoint(x, y);
    drawing?.style.removeProperty('pointer-events');
    const groundOf = (each: Element): string => {
      if (!(each instanceof SVGElement)) return getComputedStyle(each).backgroundColor;
      if (!(each instanceof SVGGeometryElement)) return 'rgba(0, 0, 0, 0)';
      const point = new DOMPoint(x, y).matrixTransform(each.getScreenCTM()?.inverse());
      return each.isPointInFill(point) ? getComputedStyle(each).fill : 'rgba(0, 0, 0, 0)';
    };
    const own = getComputedStyle(element);
    const ground =
      stack
        .slice(stack.indexOf(element) + 1)
        .map(groundOf)
        .find((each) => each !== 'none' && numbersOf(each)[3] !== 0) ?? 'rgb(255, 255, 255)';
    const lights = [luminance(element instanceof SVGElement ? own.fill : own.color), luminance(ground)];
    return (Math.max(...lights) + 0.05) / (Math.min(...lights) + 0.05);
  };
  return selectors.map((selector) => {
    const element = document.querySelector(selector);
    return element === null ? null : contrastOf(element);
  });
}

/** What is wrong with the page as it is, and what axe leaves to a person: by reason, with how many there are and their least contrast. */
export async function judged(page: Page, theme: Theme): Promise<{ wrong: string[]; open: string[] }> {
  const { violations, incomplete } = await (await axeIn(page, theme)).analyze();
  const unsure = incomplete.flatMap(({ id, nodes }) =>
    nodes.map(({ target, any }) => ({
      where: target.join(' '),
      reason: `${id}, ${any[0]?.message ?? 'no reason given'}`,
    })),
  );
  const contrasts = await page.evaluate(
    contrastsAt,
    unsure.map(({ where }) => where),
  );
  const open = new Map<string, { count: number; least: number; where: string }>();
  for (const [index, { where, reason }] of unsure.entries()) {
    const contrast = contrasts[index];
    // gone since axe looked: a running page shows another bar by then
    if (contrast === undefined || contrast === null) continue;
    const known = open.get(reason) ?? { count: 0, least: Infinity, where };
    const isLeast = contrast < known.least;
    open.set(reason, {
      count: known.count + 1,
      least: isLeast ? contrast : known.least,
      where: isLeast ? where : known.where,
    });
  }
  return {
    wrong: violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')} ${failureSummary}`),
    ),
    open: [...open].map(
      ([reason, { count, least, where }]) => `${count} × ${reason}: least ${least.toFixed(1)}:1 at ${where}`,
    ),
  };
}
