import type { ToldHome } from './a-told-home.ts'

/** Hard water, and a membrane that it has nearly eaten. */
export const HARD_WATER: ToldHome = {
  name: 'Abernathy-Vance, Corinne',
  reference: 'AV-0118',
  people: 4,
  grains: 17,
  fittedOn: '2021-05-08',
  stages: [
    ['sediment', '2026-05-09'],
    ['carbon', '2026-05-09'],
    ['membrane', '2023-05-08'],
    ['tank', '2026-05-09'],
    ['post-carbon', '2026-05-09'],
    ['remineraliser', '2026-05-09'],
  ],
  readings: [
    ['2023-06-01', 610, 28, { flow: 150, feed: 60, tank: 7, warmth: 17 }],
    ['2023-11-10', 602, 37, { flow: 128, feed: 59, tank: 7, warmth: 11 }],
    ['2024-05-12', 618, 54, { flow: 140, feed: 60, tank: 7, warmth: 14 }],
    ['2024-08-20', 300, 240, { unlikely: true }],
    ['2024-11-09', 605, 66, { flow: 121, feed: 58, tank: 6.5, warmth: 11 }],
    ['2025-05-08', 622, 90, { flow: 134, feed: 60, tank: 6.5, warmth: 14 }],
    ['2025-11-12', 611, 104, { flow: 118, feed: 59, tank: 6.5, warmth: 10 }],
    ['2026-05-09', 619, 128, { flow: 131, feed: 60, tank: 6.5, warmth: 13 }],
    ['2026-11-02', 615, 141, { flow: 117, feed: 59, tank: 6.5, warmth: 10 }],
  ],
}

/** Soft water: seven years old, and it still holds. */
export const SOFT_WATER: ToldHome = {
  name: 'Lachlan-Ibarra, Thea',
  reference: 'LI-0203',
  town: 'Orrin Falls',
  people: 3,
  grains: 2,
  fittedOn: '2019-03-02',
  stages: [
    ['sediment', '2026-03-14'],
    ['carbon', '2026-03-14'],
    ['membrane', '2019-03-02'],
    ['tank', '2026-03-14'],
    ['post-carbon', '2026-03-14'],
  ],
  readings: [
    ['2020-03-10', 92, 3.6, { flow: 160, feed: 55, tank: 7, warmth: 12 }],
    ['2021-03-12', 95, 3.9, { flow: 158, feed: 55, tank: 7, warmth: 12 }],
    ['2022-03-09', 90, 4.3, { flow: 155, feed: 54, tank: 7, warmth: 12 }],
    ['2023-03-20', 94, 4.1, { flow: 156, feed: 55, tank: 7, warmth: 12 }],
    ['2024-03-15', 96, 5, { flow: 153, feed: 55, tank: 7, warmth: 12 }],
    ['2025-03-11', 93, 4.7, { flow: 151, feed: 54, tank: 7, warmth: 12 }],
    ['2026-03-14', 95, 5.3, { flow: 150, feed: 55, tank: 6.5, warmth: 12 }],
  ],
}

/** A couple: everything goes a year, and two readings are too few for a trend. */
export const COUPLE: ToldHome = {
  name: 'Bexhill-Moreno, Idris',
  reference: 'BM-0417',
  town: 'Pell Harbor',
  people: 2,
  grains: 7,
  fittedOn: '2024-12-03',
  stages: [
    ['sediment', '2025-12-03'],
    ['carbon', '2025-12-03'],
    ['membrane', '2024-12-03'],
    ['tank', '2025-12-03'],
    ['post-carbon', '2025-12-03'],
  ],
  readings: [
    ['2024-12-03', 330, 13, { flow: 140, feed: 62, tank: 7, warmth: 13 }],
    ['2025-12-03', 336, 18, { flow: 108, feed: 50, tank: 7, warmth: 9 }],
  ],
}

/** A family of six: filters go half a year, a meter counts, and the filters ahead of the membrane are clogged. */
export const FAMILY_OF_SIX: ToldHome = {
  name: 'Galbraith, Ottoline',
  reference: 'GO-0311',
  town: 'Nether Quay',
  people: 6,
  grains: 9,
  fittedOn: '2024-05-11',
  stages: [
    ['sediment', '2026-05-11', 1500],
    ['carbon', '2026-05-11', 1500],
    ['membrane', '2024-05-11'],
    ['tank', '2026-05-11'],
    ['post-carbon', '2026-05-11'],
  ],
  readings: [
    ['2024-05-20', 410, 16, { flow: 160, feed: 58, tank: 7, warmth: 14, meter: 20 }],
    ['2024-11-15', 405, 18, { flow: 135, feed: 58, tank: 7, warmth: 9, meter: 540 }],
    ['2025-05-12', 415, 21, { flow: 152, feed: 57, tank: 7, warmth: 14, meter: 1080 }],
    ['2025-11-10', 409, 22, { flow: 128, feed: 58, tank: 7, warmth: 9, meter: 1600 }],
    ['2026-05-11', 412, 25, { flow: 149, feed: 58, tank: 7, warmth: 14, meter: 2150 }],
    ['2026-11-16', 411, 27, { flow: 86, feed: 58, tank: 7, warmth: 10, meter: 2760 }],
  ],
}

export const FOUR_HOMES = [HARD_WATER, SOFT_WATER, COUPLE, FAMILY_OF_SIX] as const
