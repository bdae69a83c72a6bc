# gnuplot PACK-band.gp draws PACK-band.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1000; tall = 483
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-band'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row, band from, to, low, high, nominal, measured, pair from, to, inside from, to, below from, to, above from, to: % of plate volts
$motors << EOD
10 90.00 110.00 98.78 112.21 101.96 NaN NaN NaN 98.78 110.00 NaN NaN 110.00 112.21
9 90.00 110.00 98.88 112.27 102.03 NaN NaN NaN 98.88 110.00 NaN NaN 110.00 112.27
8 90.00 110.00 98.83 112.26 101.99 NaN NaN NaN 98.83 110.00 NaN NaN 110.00 112.26
7 90.00 110.00 98.15 111.72 101.50 NaN NaN NaN 98.15 110.00 NaN NaN 110.00 111.72
6 90.00 110.00 98.88 112.23 102.03 NaN NaN NaN 98.88 110.00 NaN NaN 110.00 112.23
5 90.00 110.00 97.59 111.25 101.03 NaN NaN NaN 97.59 110.00 NaN NaN 110.00 111.25
4 90.00 110.00 98.32 111.52 101.54 NaN NaN NaN 98.32 110.00 NaN NaN 110.00 111.52
3 90.00 110.00 98.07 111.34 101.35 NaN NaN NaN 98.07 110.00 NaN NaN 110.00 111.34
2 108.00 132.00 113.71 129.05 117.33 NaN NaN NaN 113.71 129.05 NaN NaN NaN NaN
1 108.00 132.00 112.01 127.91 116.17 NaN NaN NaN 112.01 127.91 NaN NaN NaN NaN
EOD
set title 'Feeder PACK: volts at each motor against its plate' font ',14'
set xlabel 'Volts at the terminals, % of plate volts'
set yrange [0.3:10.7]
set rmargin 10
set bmargin at screen 118.0/tall
set key at screen 0.5, screen 12.0/tall center bottom horizontal width 1
set grid xtics lc rgb '#d5d5d5'
set arrow 1 from 100, graph 0 to 100, graph 1 nohead front dt 2 lc rgb '#7a7a7a'
set xrange [86:135]
set xtics 10
set ytics ('CV-1  460 V' 10, 'CV-2  460 V' 9, 'CV-3  460 V' 8, 'CV-4  460 V' 7, 'CV-5  460 V' 6, 'CV-6  460 V' 5, 'FAN-1  460 V' 4, 'FAN-2  460 V' 3, 'SORT-1  400 V 50 Hz' 2, 'SORT-2  400 V 50 Hz' 1)
set label 11 'band' at graph 1.01, first 10.8 left textcolor rgb '#7a7a7a'
set label 1 'fail' at graph 1.01, first 10 left textcolor rgb '#b91c1c'
set label 2 'fail' at graph 1.01, first 9 left textcolor rgb '#b91c1c'
set label 3 'fail' at graph 1.01, first 8 left textcolor rgb '#b91c1c'
set label 4 'fail' at graph 1.01, first 7 left textcolor rgb '#b91c1c'
set label 5 'fail' at graph 1.01, first 6 left textcolor rgb '#b91c1c'
set label 6 'fail' at graph 1.01, first 5 left textcolor rgb '#b91c1c'
set label 7 'fail' at graph 1.01, first 4 left textcolor rgb '#b91c1c'
set label 8 'fail' at graph 1.01, first 3 left textcolor rgb '#b91c1c'
set label 9 'watch' at graph 1.01, first 2 left textcolor rgb '#334155'
set label 10 'watch' at graph 1.01, first 1 left textcolor rgb '#334155'
plot $motors using 2:1:2:3:($1-0.42):($1+0.42) with boxxyerror fs solid 1 noborder fc rgb '#dcebd3' title 'band of the plate', \
  $motors using 10:1:($11-$10):(0) with vectors nohead lw 5 lc rgb '#334155' title 'low to high case', \
  $motors using 12:1:($13-$12):(0) with vectors nohead lw 9 lc rgb '#b91c1c' title 'outside the band', \
  $motors using 14:1:($15-$14):(0) with vectors nohead lw 9 lc rgb '#b91c1c' notitle, \
  $motors using 6:1 with points pt 7 ps 1.5*mark lc rgb '#1a1a1a' title 'nominal'
unset output
