# Completion of haftwright's command line for bash. A test holds verbs, options and values against `haftwright --help`.

_haftwright_words() { # _haftwright_words WORDS: those that go on from what has been typed
  mapfile -t COMPREPLY < <(compgen -W "$1" -- "$2")
}

_haftwright_files() { # _haftwright_files ENDING WORD: folders, and files with that ending
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(compgen -d -- "$2"; compgen -f -X "!*.$1" -- "$2")
}

_haftwright_bin_options() { # _haftwright_bin_options ACTION: what the verb bin takes there
  [ -n "$1" ] || return
  local common=' --bin --json' texts=' --name --material --alike --kept-at --note'
  local flat=' --length --width --outline --thickness'
  local wood=' --grain --dip --rings --faces --set --slice --moisture' rod=' --diameter --measured --bore'
  case $1 in
    list) echo "$common --material --least --all" ;;
    add) echo "$common --id$texts$flat$wood" ;;
    add-sheet) echo "$common --id$texts$flat" ;;
    add-rod) echo "$common --id$texts --length$rod" ;;
    change) echo "$common$texts$flat$wood$rod" ;;
    defect) echo "$common --kind --circle --polygon --note --remove --move" ;;
    photo) echo "$common --file --face --mark --above --camera-height --lens-k1 --remove" ;;
    frame) echo "$common --paper -o --output" ;;
    trace)
      echo "$common --file --face --mark --above --camera-height --lens-k1 --frame --printed-line --sheet --seed --id"
      echo "--thickness$texts$wood -o --output"
      ;;
    cut) echo "$common --left --used --project" ;;
    reserve) echo "$common --project --piece" ;;
    *) echo "$common" ;;
  esac
}

_haftwright() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} verb='' i
  local verbs='check align glue jig handle picture new import shop bin plan list'
  local actions='list show check add add-sheet add-rod change defect photo frame trace units remove cut reserve release' action=''
  for ((i = 1; i < COMP_CWORD; i++)); do
    case " $verbs " in *" ${COMP_WORDS[i]} "*) verb=${COMP_WORDS[i]} && break ;; esac
  done
  if [ "$verb" = bin ] && [ $((i + 1)) -lt "$COMP_CWORD" ]; then action=${COMP_WORDS[i + 1]}; fi

  local options='-h --help'
  case $verb in
    '') options="$options --version" ;;
    check | glue) options="$options --json" ;;
    align) options="$options --json --way --full --samples --seed" ;;
    jig) options="$options --json -o --output --steps" ;;
    handle) options="$options --json -o --output" ;;
    picture)
      options="$options -o --output --view --size --show --exploded --section --backdrop --transparent --no-shadow"
      options="$options --parallel --bin --plans --take --outside --all-pieces"
      ;;
    new)
      options="$options --tang --length --front-height --butt-height --thickness --units --shop --replace"
      ;;
    import)
      options="$options -o --output --list --unit --layer --loop --tolerance --gap --axis --turn --mirror --front-end"
      options="$options --front --thickness --units --shop --replace"
      ;;
    shop) options="$options --json --shop --only" ;;
    bin) options="$options$(_haftwright_bin_options "$action")" ;;
    plan)
      options="$options --json --bin -o --output --plans --take --outside --all-pieces --fix --free --keep --order"
      options="$options --reserve --cut --incomplete"
      ;;
    list) options="$options --json" ;;
  esac

  case $before in
    --way) _haftwright_words 'by_eye to_first taped guide guide_pinned' "$word" ;;
    --view) _haftwright_words 'left right spine belly front butt three-quarter' "$word" ;;
    --show) _haftwright_words 'materials colours ghost mismatch' "$word" ;;
    --backdrop) _haftwright_words 'light dark' "$word" ;;
    --tang) _haftwright_words 'straight bowed' "$word" ;;
    --unit) _haftwright_words 'mm cm m in ft px96 px90 px72' "$word" ;;
    --front-end) _haftwright_words 'left right' "$word" ;;
    --units) _haftwright_words 'mm inch inch_fraction' "$word" ;;
    -o | --output)
      case $verb in
        picture) _haftwright_files png "$word" ;;
        plan) _haftwright_files svg "$word" ;;
        bin) _haftwright_files '@(svg|png)' "$word" ;;
        import) compopt -o filenames 2>/dev/null && mapfile -t COMPREPLY < <(compgen -d -- "$word") ;;
        *) _haftwright_files step "$word" ;;
      esac
      ;;
    --steps) _haftwright_files txt "$word" ;;
    --shop) _haftwright_files shop.json "$word" ;;
    --bin) _haftwright_files bin.json "$word" ;;
    --kind) _haftwright_words 'knot check hole sapwood other' "$word" ;;
    --paper) _haftwright_words 'a5 a4 a3 letter' "$word" ;;
    --face) _haftwright_words 'upper lower' "$word" ;;
    --outline | --polygon | --left) _haftwright_files txt "$word" ;;
    --file) compopt -o filenames 2>/dev/null && mapfile -t COMPREPLY < <(compgen -f -X '!*.@(jpg|jpeg|png|tif|tiff|heic)' -- "$word") ;;
    --only) _haftwright_words 'adhesive guide rules drilling drilling.errors' "$word" ;;
    --samples | --seed | --plans | --take | --fix | --free | --order | --size | --exploded | --section | --length | --front-height | --butt-height | --thickness)
      COMPREPLY=()
      ;;
    --layer | --loop | --tolerance | --gap | --axis | --turn | --front) COMPREPLY=() ;;
    --id | --name | --material | --alike | --kept-at | --note | --width | --grain | --dip | --rings | --faces | --set)
      COMPREPLY=()
      ;;
    --slice | --moisture | --diameter | --measured | --bore | --least | --circle | --remove | --move | --mark | --above)
      COMPREPLY=()
      ;;
    --camera-height | --lens-k1 | --printed-line | --sheet | --seed | --used | --project | --piece) COMPREPLY=() ;;
    *)
      case $word in
        -*) _haftwright_words "$options" "$word" ;;
        *)
          if [ "$verb" = list ]; then
            _haftwright_words "materials woods laminates metals plastics naturals sheets drills" "$word"
          elif [ "$before" = bin ]; then
            _haftwright_words "$actions" "$word"
          elif [ "$before" = units ]; then
            _haftwright_words "mm inch inch_fraction" "$word"
          elif [ "$verb" = bin ]; then
            COMPREPLY=()
          elif [ "$verb" = import ]; then
            _haftwright_files '@(dxf|DXF|svg|SVG)' "$word"
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
