/**
 * For how many whole days the pieces are enough, today included, when so many are used a day: `use[d]` on the day d days from today,
 * beyond the last of them the average of all. Null where no use is known of. With an even use it is pieces over daily use.
 */
export function daysOfCover(pieces: number, use: Float64Array): number | null {
  let left = pieces
  let all = 0
  for (let day = 0; day < use.length; day++) {
    const asked = use[day] as number
    all += asked
    // A hair of rounding takes no day away
    if (asked > left + 1e-9) return day
    left -= asked
  }
  return all > 0 ? use.length + Math.floor((left * use.length) / all + 1e-9) : null
}
