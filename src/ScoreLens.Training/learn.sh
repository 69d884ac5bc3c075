#!/usr/bin/env bash
# Learns the shipped weights anew: features of the corpus's open part and of its scores without analyses, teachers, what they think of every
# vertical, students that go on from the teachers, last the weights file.
#   src/ScoreLens.Training/learn.sh CORPUS WORKFOLDER
# Needs the .NET SDK, python3 with PyTorch, some 20 GB of disk, and CUDA GPUs of the 80 GB class: it uses four, or as many as GPUS says.
# TIME is the training time in seconds, by default that of the shipped weights (35 minutes on four GPUs). DRAWS is the number of further
# draws of invented music (13). TOOL is a published training tool, for machines without the SDK. OUT is the weights file to write.
set -euo pipefail
corpus=$1 work=$2 gpus=${GPUS:-4} time=${TIME:-2063}
here=$(cd "$(dirname "$0")" && pwd)
weights=$here/../ScoreLens/Reading/Model/weights.bin
mkdir -p "$work"
if [ -n "${TOOL:-}" ]; then
  tool=("$TOOL")
else
  dotnet build -c Release "$here" -v quiet
  tool=(dotnet run -c Release --no-build --project "$here" --)
fi
export_() { "${tool[@]}" export "$corpus" "$@"; }
export_ "$work/data"
export_ "$work/data.u" unlabelled
for number in $(seq 1 "${DRAWS:-13}"); do export_ "$work/data.$number" "$number"; done

running=()
finish() { for process in "${running[@]}"; do wait "$process"; done; running=(); }
learn() { # GPU, verb, what it writes …: as many at a time as there are GPUs
  CUDA_VISIBLE_DEVICES=$(($1 % gpus)) python3 "$here/learn.py" "$work/data" "${@:2}" &
  running+=($!)
  if [ ${#running[@]} -ge "$gpus" ]; then finish; fi
}
share() { echo $((time * $1 / 1000)); }
soft() { # NAME, teachers …: what they think of every vertical
  for part in 0 1 2 3; do learn $part soft "$work/$1.$part" --shard $part/4 --teachers "${@:2}"; done
  finish
}
mix=(--unlabelled .3 --variations .2 --clothed .04 --texture .16 --handbook .12)
large=(--front 256 --beat 128 --hidden 160) middle=(--front 192 --beat 96 --hidden 128)
other=(--front 224 --beat 112 --hidden 176) small=(--front 128 --beat 64 --hidden 112)
places=(--kind places --channels 48 --hidden 32 --tail 64 --rate 2.5e-3 --batch 64 --half --dropout .15)

# First round: the weights that are shipped teach.
soft first "$weights"
round=("${mix[@]}" --limit "$(share 232)" --soft-labels "$work"/first.[0-3])
learn 0 train "$work/c1.pt" "${round[@]}" "${large[@]}" --dropout .2 --soft .8 --sampling .5 --drop-planes .05 --seed 11
learn 1 train "$work/a1.pt" "${round[@]}" "${middle[@]}" --dropout .2 --soft .7 --sampling .7 --drop-planes .05 --seed 12
learn 2 train "$work/p1.pt" "${round[@]}" "${places[@]}" --soft .8 --seed 13
learn 3 train "$work/p2.pt" "${round[@]}" "${places[@]}" --soft .6 --sampling .6 --seed 14
finish

# Second round: they and the first round's networks teach; two students go on from their teachers, two begin anew.
soft second "$weights" "$work"/{c1,a1,p1,p2}.pt
round=("${mix[@]}" --limit "$(share 375)" --soft-labels "$work"/second.[0-3])
learn 0 train "$work/c2.pt" "${round[@]}" "${large[@]}" --start "$work/c1.pt" --rate 2e-3 --dropout .12 --sampling .5 --seed 21
learn 1 train "$work/a2.pt" "${round[@]}" "${middle[@]}" --start "$work/a1.pt" --rate 2e-3 --dropout .1 --sampling .6 --seed 22
learn 2 train "$work/d2.pt" "${round[@]}" "${other[@]}" --dropout .15 --sampling .5 --drop-planes .03 --seed 23
learn 3 train "$work/b2.pt" "${round[@]}" "${small[@]}" --dropout .08 --soft .95 --sampling .5 --seed 24
finish

# Third round: all of the second round and the two of places teach; all four students go on.
soft third "$work"/{c2,d2,a2,b2,p1,p2}.pt
round=("${mix[@]}" --limit "$(share 73)" --rate 7e-4 --soft-labels "$work"/third.[0-3])
learn 0 train "$work/c3.pt" "${round[@]}" "${large[@]}" --start "$work/c2.pt" --dropout .12 --sampling .5 --seed 31
learn 1 train "$work/d3.pt" "${round[@]}" "${other[@]}" --start "$work/d2.pt" --dropout .15 --sampling .5 --seed 33
learn 2 train "$work/a3.pt" "${round[@]}" "${middle[@]}" --start "$work/a2.pt" --dropout .1 --sampling .6 --seed 32
learn 3 train "$work/b3.pt" "${round[@]}" "${small[@]}" --start "$work/b2.pt" --dropout .08 --soft .95 --sampling .5 --seed 34
finish

# Fourth round: the third round and the two of places teach; music without marks, and other versions of what nobody analysed, come in.
soft fourth "$work"/{c3,d3,a3,b3,p1,p2}.pt
mix=(--unlabelled .25 --heard .08 --variations .17 --clothed .1 --texture .14 --handbook .1)
round=("${mix[@]}" --limit "$(share 320)" --rate 2e-3 --soft-labels "$work"/fourth.[0-3])
learn 0 train "$work/a4.pt" "${round[@]}" "${middle[@]}" --start "$work/a3.pt" --dropout .1 --sampling .6 --drop-planes .02 --seed 43
finish
python3 "$here/learn.py" "$work/data" pack "${OUT:-$weights}" --teachers "$work/a4.pt" "$work/b3.pt"
