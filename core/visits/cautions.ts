/** A caution as it stands on the job card and where the screen asks for the work. */
export interface Caution {
  readonly head: string
  readonly text: string
}

/**
 * The usual cautions, in full. They rest on the trade's practice and on public advice (never mix chlorine with acids or
 * ammonia: US Centers for Disease Control and Prevention; membranes and cartridges out before chlorine goes through: Florida
 * Department of Health, 2015). They certify nothing and defer to local codes and licensed practice.
 */
export const CAUTIONS: readonly Caution[] = [
  {
    head: 'Pressure and electrics',
    text: 'Shut the feed and let the pressure off before anything is opened. A housing is full of water: keep it away from plugs and cables.',
  },
  {
    head: 'Sanitiser',
    text: 'Gloves, eye protection, fresh air. Never together with acids, ammonia or another cleaner. Flush until none is left. Its label comes before this card.',
  },
  {
    head: 'Chlorine ruins membranes',
    text: 'Membrane and cartridges come out before a chlorine sanitiser goes through: it ruins thin-film membranes, and carbon swallows it.',
  },
  {
    head: 'Closing up',
    text: 'Look at every O-ring. Do not over-tighten housings. Wait under pressure and look for leaks before leaving, and again after the tank has filled.',
  },
  {
    head: 'The first tanks',
    text: 'The first tanks after a service go down the drain, usually three fills, not into a glass. Tell the household.',
  },
  {
    head: 'What a meter does not say',
    text: 'A TDS meter says nothing about germs, lead, nitrate or other things that harm health: a certified laboratory does. Reverse osmosis is not for microbiologically unsafe water without adequate disinfection before or after it.',
  },
  {
    head: 'Supply and drain',
    text: 'Cutting into supply or drain lines, air gaps and backflow are matters of the local plumbing code, and often of a licensed plumber.',
  },
]
