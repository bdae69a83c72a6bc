# gnuplot LIFT-band.gp draws LIFT-band.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1000; tall = 363
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'LIFT-band'
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
6 90.00 110.00 103.12 116.37 106.33 112.55 111.95 113.08 103.12 110.00 NaN NaN 110.00 116.37
5 90.00 110.00 103.03 116.29 106.25 112.47 111.87 113.00 103.03 110.00 NaN NaN 110.00 116.29
4 90.00 110.00 98.55 111.09 101.64 107.59 107.01 108.10 98.55 110.00 NaN NaN 110.00 111.09
3 90.00 110.00 98.48 111.02 101.58 107.53 106.95 108.03 98.48 110.00 NaN NaN 110.00 111.02
2 90.00 110.00 103.25 117.17 106.49 112.70 112.10 113.23 103.25 110.00 NaN NaN 110.00 117.17
1 90.00 110.00 102.68 116.67 106.01 112.24 111.64 112.77 102.68 110.00 NaN NaN 110.00 116.67
EOD
set title 'Feeder LIFT: volts at each motor against its plate' font ',14'
set xlabel 'Volts at the terminals, % of plate volts'
set yrange [0.3:6.7]
set rmargin 10
set bmargin at screen 118.0/tall
set key at screen 0.5, screen 12.0/tall center bottom horizontal width 1
set grid xtics lc rgb '#d5d5d5'
set arrow 1 from 100, graph 0 to 100, graph 1 nohead front dt 2 lc rgb '#7a7a7a'
set xrange [86:121]
set xtics 5
set ytics ('LP-1  440 V' 6, 'LP-2  440 V' 5, 'LP-3  460 V' 4, 'LP-4  460 V' 3, 'PRIME  440 V' 2, 'HOIST  440 V' 1)
set label 7 'band' at graph 1.01, first 6.8 left textcolor rgb '#7a7a7a'
set label 1 'fail' at graph 1.01, first 6 left textcolor rgb '#b91c1c'
set label 2 'fail' at graph 1.01, first 5 left textcolor rgb '#b91c1c'
set label 3 'fail' at graph 1.01, first 4 left textcolor rgb '#b91c1c'
set label 4 'fail' at graph 1.01, first 3 left textcolor rgb '#b91c1c'
set label 5 'fail' at graph 1.01, first 2 left textcolor rgb '#b91c1c'
set label 6 'fail' at graph 1.01, first 1 left textcolor rgb '#b91c1c'
plot $motors using 2:1:2:3:($1-0.42):($1+0.42) with boxxyerror fs solid 1 noborder fc rgb '#dcebd3' title 'band of the plate', \
  $motors using 10:1:($11-$10):(0) with vectors nohead lw 5 lc rgb '#334155' title 'low to high case', \
  $motors using 12:1:($13-$12):(0) with vectors nohead lw 9 lc rgb '#b91c1c' title 'outside the band', \
  $motors using 14:1:($15-$14):(0) with vectors nohead lw 9 lc rgb '#b91c1c' notitle, \
  $motors using 6:1 with points pt 7 ps 1.5*mark lc rgb '#1a1a1a' title 'nominal', \
  $motors using 8:1:($9-$8):(0) with vectors nohead lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 7:1 with points pt 13 ps 2.6*mark lc rgb 'white' notitle, \
  $motors using 7:1 with points pt 13 ps 1.7*mark lc rgb '#7b2d8e' title 'measured'
unset output
