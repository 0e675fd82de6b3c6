// Where a plant comes from and what came of it: parents, divisions, seedlings, each as a link.

import { kinNamed, kinOf } from '../crop/kin'
import type { Farm, Plant, PlantID } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { href } from '../ui/route'
import { swatchOf } from '../ui/words'

export function PlantKin({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const { children, seedlings } = kinOf(farm, plant.id)
  const lines = [
    { name: t('plant.parents'), of: plant.parents },
    { name: t('plant.children'), of: children },
    { name: t('plant.beside'), of: plant.beside === '' ? [] : [plant.beside] },
    { name: t('plant.seedlings'), of: seedlings },
  ].filter((line) => line.of.length > 0)
  if (lines.length === 0) return null
  return (
    <section>
      <h2>{t('plant.kin')}</h2>
      {lines.map(({ name, of }) => (
        <div key={name} class="kin">
          <p class="small">{name}{of.length > 1 && ` · ${count(of.length)}`}</p>
          <ul>{of.map((id) => <li key={id}><KinLink farm={farm} id={id} /></li>)}</ul>
        </div>
      ))}
    </section>
  )
}

function KinLink({ farm, id }: { readonly farm: Farm; readonly id: PlantID }) {
  const named = kinNamed(farm, id)
  if (!named) return <span class="small">{t('plant.not_here')}</span>
  const { plant, withdrawn } = named
  return (
    <a class="btn" href={href('beds', 'plant', id)}>
      <Head swatch={swatchOf(farm, plant)} size={26} />{withdrawn ? t('plant.withdrawn', { code: plant.code }) : plant.code}
    </a>
  )
}
