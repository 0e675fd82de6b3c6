// What walks saw of a plant, season by season: whether it stood in spring, and its colour class.

import type { ComponentChildren } from 'preact'
import type { Farm, Plant, Season, Seen } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { today } from '../ui/today'

export function PlantSeen({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const seasons = [...new Set([...plant.stands.keys(), ...plant.colours.keys()])].sort((a, b) => b - a)
  if (seasons.length === 0) return null
  return (
    <section>
      <h2>{t('plant.seen')}</h2>
      <ul class="rows">{seasons.map((season) => <OneSeason key={season} farm={farm} plant={plant} season={season} />)}</ul>
    </section>
  )
}

function OneSeason({ farm, plant, season }: { readonly farm: Farm; readonly plant: Plant; readonly season: Season }) {
  const stand = plant.stands.get(season)
  const seen = plant.colours.get(season)
  const colour = seen && farm.colours.get(seen.what)
  return (
    <li class="told">
      <b>{String(season)}</b>
      {stand && <Told name={t('plant.seen.stand')} what={t(`stand.${stand.what}`)} seen={stand} />}
      {seen && <Told name={t('plant.seen.colour')} what={colour?.name ?? t('colour.not_here')} seen={seen}><Head swatch={colour?.swatch ?? ''} size={24} /></Told>}
    </li>
  )
}

interface ToldProps {
  readonly name: string
  readonly what: string
  readonly seen: Seen<string>
  readonly children?: ComponentChildren
}

function Told({ name, what, seen, children }: ToldProps) {
  return <p class="seen">{children}<span>{t('plant.seen.one', { name, what })} <span class="small">{dayName(seen.day, today.value)}</span></span></p>
}
