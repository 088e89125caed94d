# Completion of haftwright's command line for bash. A test holds verbs, options and values against `haftwright --help`.

_haftwright_words() { # _haftwright_words WORDS: those that go on from what has been typed
  mapfile -t COMPREPLY < <(compgen -W "$1" -- "$2")
}

_haftwright_files() { # _haftwright_files ENDING WORD: folders, and files with that ending
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(compgen -d -- "$2"; compgen -f -X "!*.$1" -- "$2")
}

_haftwright() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} verb='' i
  local verbs='check align glue jig handle picture new shop list'
  for ((i = 1; i < COMP_CWORD; i++)); do
    case " $verbs " in *" ${COMP_WORDS[i]} "*) verb=${COMP_WORDS[i]} && break ;; esac
  done

  local options='-h --help'
  case $verb in
    '') options="$options --version" ;;
    check | glue) options="$options --json" ;;
    align) options="$options --json --way --full --samples --seed" ;;
    jig) options="$options --json -o --output --steps" ;;
    handle) options="$options --json -o --output" ;;
    picture)
      options="$options -o --output --view --size --show --exploded --section --backdrop --transparent --no-shadow"
      options="$options --parallel"
      ;;
    new)
      options="$options --tang --length --front-height --butt-height --thickness --units --shop --replace"
      ;;
    shop) options="$options --json --shop --only" ;;
    list) options="$options --json" ;;
  esac

  case $before in
    --way) _haftwright_words 'by_eye to_first taped guide guide_pinned' "$word" ;;
    --view) _haftwright_words 'left right spine belly front butt three-quarter' "$word" ;;
    --show) _haftwright_words 'materials ghost mismatch' "$word" ;;
    --backdrop) _haftwright_words 'light dark' "$word" ;;
    --tang) _haftwright_words 'straight bowed' "$word" ;;
    --units) _haftwright_words 'mm inch inch_fraction' "$word" ;;
    -o | --output)
      if [ "$verb" = picture ]; then _haftwright_files png "$word"; else _haftwright_files step "$word"; fi
      ;;
    --steps) _haftwright_files txt "$word" ;;
    --shop) _haftwright_files shop.json "$word" ;;
    --only) _haftwright_words 'adhesive guide rules drilling drilling.errors' "$word" ;;
    --samples | --seed | --size | --exploded | --section | --length | --front-height | --butt-height | --thickness)
      COMPREPLY=()
      ;;
    *)
      case $word in
        -*) _haftwright_words "$options" "$word" ;;
        *)
          if [ "$verb" = list ]; then
            _haftwright_words "materials woods laminates metals plastics naturals sheets drills" "$word"
          elif [ "$before" = shop ]; then
            _haftwright_words "init compare apply learn" "$word"
          else
            _haftwright_files json "$word"
            if [ -z "$verb" ]; then
              mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -W "$verbs" -- "$word")
            fi
          fi
          ;;
      esac
      ;;
  esac
}
complete -F _haftwright haftwright
