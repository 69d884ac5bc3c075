#!/usr/bin/env bash
# Learns the shipped weights anew: features from the corpus's open part, seven teachers, what they think of every vertical,
# three students, the weights file.
#   src/ScoreLens.Training/learn.sh CORPUS WORKFOLDER
# Needs the .NET SDK, python3 with PyTorch, and a CUDA GPU (about half an hour on one of the 80 GB class, one network after another).
set -euo pipefail
corpus=$1 work=$2
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$work"
dotnet run -c Release --project "$here" -- export "$corpus" "$work/data"
learn() { python3 "$here/learn.py" "$work/data" "$@"; }
teach() { learn "$work/$1" --power .5 --sampling .5 --smooth-pair .1 "${@:2}"; }
places=(--kind places --factor .3 --channels 48 --hidden 32 --tail 96 --epochs 210)
teach p1 "${places[@]}" --dropout .15 --seed 11
teach p2 "${places[@]}" --dropout .2 --seed 12
teach p3 "${places[@]}" --dropout .2 --texture .2 --variations .2 --seed 13
whole=(--kind whole --hidden 128 --factor .4)
teach w1 "${whole[@]}" --epochs 570 --seed 14
teach w2 "${whole[@]}" --epochs 530 --beat 128 --beat-layers 2 --seed 16
teach w3 "${whole[@]}" --epochs 500 --beat 96 --drop-planes .1 --texture .2 --variations .2 --seed 17
teach w4 "${whole[@]}" --epochs 530 --beat 96 --beat-layers 2 --dropout .45 --drop-crop .05 --seed 18
learn - --teachers "$work"/[pw][1-4].pt --save-soft "$work/soft.pt"
student() { learn "$work/$1" --soft-labels "$work/soft.pt" --power .5 --sampling .5 --soft .8 --factor .2 --texture .25 --variations .25 --handbook .15 --epochs 560 "${@:2}"; }
student s48 --channels 48 --hidden 32 --tail 64 --dropout .15 --seed 31
student s40 --channels 40 --hidden 24 --tail 48 --dropout .15 --soft .9 --seed 34
student s32 --channels 32 --hidden 24 --tail 48 --dropout .1 --seed 33
learn "$here/../ScoreLens/Reading/Model/weights.bin" --pack "$work"/s48.pt "$work"/s40.pt "$work"/s32.pt
