# The seal as papers print it.

seal-draft = A draft: this record has not been sealed, and may still change
seal-on = Sealed on { $day }
seal-on-again = Sealed on { $day }, for the { $time } time; the first seal is of { $first }
seal-unchanged = The record has not been changed since
seal-one-change = One thing in the record was changed since:
seal-changes = { $changes } things in the record were changed since:
seal-check = The seal is the beginning of the SHA-256 fingerprint of the file record.toml in the buyer’s pack
seal-reason = { $day }: { $because }
seal-line = Seal { $seal }
seal-line-draft = Draft: not sealed
seal-number = Seal { $number }: { $seal }
# Which time it is: `rest` and `end` are the number's last two digits and its last.
nth = { $number ->
    [2] second
    [3] third
   *[other] { $rest ->
        [11] { $number }th
        [12] { $number }th
        [13] { $number }th
       *[other] { $end ->
            [1] { $number }st
            [2] { $number }nd
            [3] { $number }rd
           *[other] { $number }th
        }
    }
 }
