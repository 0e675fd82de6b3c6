// Another code for a plant whose tag says the same as another's.

import { codeFacts } from '../crop/facts'
import { bedOf } from '../crop/places'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { codesLeft } from './codes'
import { DeedNote } from './DeedNote'
import type { PlantActionProps } from './PlantActionPage'
import { codesFor, Hindered, useDeed } from './use_deed'

export function NewCodePage({ plant }: PlantActionProps) {
  const notebook = useNotebook()
  const doing = useDeed()
  const bed = bedOf(notebook.farm.value, plant)
  const record = () => doing.act((now) => {
    const it = now.plants.get(plant.id)
    if (!it) throw new Hindered(t('lineage.changed'))
    const { codes: [code = ''], alongside } = codesFor(notebook, now, 1)
    return { deed: { facts: codeFacts(it.id, code), undo: codeFacts(it.id, it.code) }, alongside, said: t('lineage.code.done', { code }) }
  })
  return (
    <div class="reading divided">
      <p>{t('lineage.code.what')}</p>
      <DeedNote {...doing} />
      {codesLeft(notebook) < 1 && <p class="note warn">{t('lineage.codes.few', { n: 1 })}</p>}
      {doing.done
        ? (
          <>
            {bed && <a class="btn" href={href('beds', 'tags', bed, plant.id)}>{t('tags.link')}</a>}
            <a class="btn" href={href('shed')}>{t('place.shed')}</a>
          </>
        )
        : <button type="button" class="btn main" disabled={codesLeft(notebook) < 1} onClick={() => void record()}>{t('lineage.code.do')}</button>}
    </div>
  )
}
