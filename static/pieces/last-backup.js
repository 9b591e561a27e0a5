/** How old the last backup is: a store that is nowhere else is lost with its disk. */

import { dayAfter, daysBetween, showDay } from "../dates.js";
import { summary } from "../state.js";
import { ABOARD } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";
import { today } from "./today.js";

/** Older than this many days asks for one. */
const OLD_DAYS = 7;

/** Give {days, made, changes, isOld} of a summary's `backup` on a day; null where there is none. */
export function backupAge({ backup, today: told }, day) {
  if (!backup) return null;
  const days = backup.days_ago + Math.max(0, daysBetween(told, day));
  return { days, made: dayAfter(day, -days), changes: backup.changes_since, isOld: days > OLD_DAYS };
}

/** One line under Aboard; what asks for a backup stands out. */
export function LastBackup() {
  if (!summary.value || !("backup" in summary.value)) return null;
  const age = backupAge(summary.value, today(summary.value));
  const isFine = age && !age.isOld;
  const text = age ? ABOARD.backup(age.days, showDay(age.made), age.changes) : ABOARD.backup_never;
  return html`<p class=${isFine ? "quiet small" : "panel"} data-piece="last-backup" data-age=${age ? age.days : "never"}>
    ${!isFine && html`<${Shape} name="triangle" /> `}${text}${!isFine && html`<br /><span class="small">${ABOARD.backup_how}</span>`}</p>`;
}
