# gnuplot SHOP-band.gp draws SHOP-band.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1000; tall = 303
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'SHOP-band'
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
4 90.00 110.00 84.02 96.83 87.32 NaN NaN NaN 90.00 96.83 84.02 90.00 NaN NaN
3 90.00 110.00 96.70 111.35 100.40 NaN NaN NaN 96.70 110.00 NaN NaN 110.00 111.35
2 90.00 110.00 97.58 112.34 101.10 NaN NaN NaN 97.58 110.00 NaN NaN 110.00 112.34
1 90.00 110.00 93.44 107.63 96.81 NaN NaN NaN 93.44 107.63 NaN NaN NaN NaN
EOD
set title 'Feeder SHOP: volts at each motor against its plate' font ',14'
set xlabel 'Volts at the terminals, % of plate volts'
set yrange [0.3:4.7]
set rmargin 10
set bmargin at screen 118.0/tall
set key at screen 0.5, screen 12.0/tall center bottom horizontal width 1
set grid xtics lc rgb '#d5d5d5'
set arrow 1 from 100, graph 0 to 100, graph 1 nohead front dt 2 lc rgb '#7a7a7a'
set xrange [81:116]
set xtics 5
set ytics ('LATHE  230 V' 4, 'SAW  200 V' 3, 'BENCH  115 V' 2, 'GRIND  208 V' 1)
set label 5 'band' at graph 1.01, first 4.8 left textcolor rgb '#7a7a7a'
set label 1 'fail' at graph 1.01, first 4 left textcolor rgb '#b91c1c'
set label 2 'fail' at graph 1.01, first 3 left textcolor rgb '#b91c1c'
set label 3 'fail' at graph 1.01, first 2 left textcolor rgb '#b91c1c'
set label 4 'ok' at graph 1.01, first 1 left textcolor rgb '#334155'
plot $motors using 2:1:2:3:($1-0.42):($1+0.42) with boxxyerror fs solid 1 noborder fc rgb '#dcebd3' title 'band of the plate', \
  $motors using 10:1:($11-$10):(0) with vectors nohead lw 5 lc rgb '#334155' title 'low to high case', \
  $motors using 12:1:($13-$12):(0) with vectors nohead lw 9 lc rgb '#b91c1c' title 'outside the band', \
  $motors using 14:1:($15-$14):(0) with vectors nohead lw 9 lc rgb '#b91c1c' notitle, \
  $motors using 6:1 with points pt 7 ps 1.5*mark lc rgb '#1a1a1a' title 'nominal'
unset output
